// plots.h - pictures that a verb writes into a folder, each as SVG and as PDF.
#pragma once
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "batch/plan.h"
#include "packet/canvas.h"
#include "quantity/result.h"

namespace stickwright {

struct PlotFile {
  std::string name;  // without its ending
  std::function<Result<std::string>(Drawing)> draw;
};

// returns  the files' names   errors  cannot_write
Result<std::vector<std::string>> write_plots(const std::vector<PlotFile>& plots, const std::filesystem::path& folder);

// The first day of the batch: what its pictures are dated, so that equal ones are equal files.
std::string date_of_plots(const BatchPlan& plan);

// "six-piece-star": letters and digits, all else as single hyphens.
std::string file_name_of(const std::string& words);

}  // namespace stickwright
