#include "serve/wood_tone.h"

#include <algorithm>
#include <array>
#include <utility>

namespace stickwright {

double drawn_lightness(std::string_view wood) {
  static constexpr std::array<std::pair<std::string_view, double>, 31> kTones = {{
      {"African blackwood", 0.18},
      {"basswood", 0.90},
      {"black cherry", 0.58},
      {"black walnut", 0.36},
      {"walnut", 0.36},
      {"bloodwood", 0.38},
      {"bubinga", 0.45},
      {"butternut", 0.68},
      {"canarywood", 0.66},
      {"ebony", 0.12},
      {"mockernut hickory", 0.74},
      {"northern red oak", 0.68},
      {"padauk", 0.42},
      {"pecan hickory", 0.72},
      {"persimmon", 0.80},
      {"purpleheart", 0.34},
      {"red alder", 0.66},
      {"red maple", 0.84},
      {"shagbark hickory", 0.74},
      {"sugar maple", 0.90},
      {"sweet birch", 0.76},
      {"sweetgum", 0.62},
      {"sycamore", 0.78},
      {"teak", 0.52},
      {"true mahogany", 0.48},
      {"wenge", 0.22},
      {"white ash", 0.84},
      {"white oak", 0.70},
      {"yellow birch", 0.80},
      {"yellow poplar", 0.74},
      {"zebrawood", 0.60},
  }};
  const auto at = std::find_if(kTones.begin(), kTones.end(), [&](const auto& t) { return t.first == wood; });
  return at == kTones.end() ? 0.6 : at->second;
}

}  // namespace stickwright
