// jig_lines.h - what the shop's blade and cradles do, in words for a card or a report.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "jig/compliance.h"
#include "quantity/result.h"
#include "shop/shop.h"

namespace stickwright {

// The kerf's parts, feed per tooth, rim speed, saw marks, time of a cut through a stick of this side, cautions; a
// sentence or two in each line.
//   returns  nothing about what the shop file does not tell; nothing at all when [blade] has none of the optional keys
std::vector<std::string> blade_lines(const Shop& shop, std::optional<Mm> stick = {});

// The cradle as the shop file describes it; with a stick, the wood between its axis and the flank yields, too.
ClampedCradle clamped(const Cradle& cradle, std::optional<Mm> stick = {});

// How the cradle yields: sink, pitch, miter with their uncertainties, and the cautions.
//   returns  a line that says what is wrong when the stick does not lie still (the problems of yield_of)
std::vector<std::string> cradle_lines(const Cradle& cradle, std::optional<Mm> stick = {});

}  // namespace stickwright
