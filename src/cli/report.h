// report.h - the readable pages that the verbs print.
#pragma once
#include <string>

#include "batch/design_plan.h"
#include "glueup/glueup.h"

namespace stickwright {

std::string check_report(const DesignPlan& plan);
std::string blocks_report(const std::vector<MadePiece>& made, const Split& split, std::size_t first);

}  // namespace stickwright
