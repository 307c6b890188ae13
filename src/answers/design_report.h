// design_report.h - the readable pages about a design.
#pragma once
#include <string>

#include "batch/design_plan.h"
#include "glueup/glueup.h"

namespace stickwright {

std::string check_report(const DesignPlan& plan);
std::string blocks_report(const std::vector<MadePiece>& made, const Split& split, std::size_t first);

}  // namespace stickwright
