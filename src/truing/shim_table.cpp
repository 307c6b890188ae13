#include "truing/shim_table.h"

#include <cmath>

namespace stickwright {

std::vector<ShimRow> shim_table(const Prediction& prediction, std::span<const Leaf> leaves, Mm low, Mm high, Mm step) {
  std::vector<ShimRow> rows;
  const auto steps = static_cast<int>(std::floor((high.v - low.v) / step.v + 1e-9));
  for (int k = 0; k <= steps; ++k) {
    const Mm reading{low.v + k * step.v};
    const Measured measured{&prediction, reading.v, 1};
    const Correction c = correct_stop({&measured, 1}, leaves);
    const bool goes_on = !rows.empty() && rows.back().advice == c.advice && rows.back().shim.leaves == c.shim.leaves;
    if (!goes_on) rows.push_back({reading, reading, c.advice, c.shim, c.error, c.error});
    rows.back().last = reading;
    rows.back().error_last = c.error;
  }
  return rows;
}

}  // namespace stickwright
