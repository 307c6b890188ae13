#include <cmath>

#include "metrology/leaves.h"

namespace stickwright {

bool check_shim(const Shim& shim, Nm wanted, std::span<const Leaf> leaves) {
  if (shim.leaves.size() > 3) return false;
  std::int64_t total = 0;
  double variance = 0;
  for (std::size_t i = 0; i < shim.leaves.size(); ++i) {
    if (shim.leaves[i] >= leaves.size()) return false;
    if (i > 0 && shim.leaves[i] <= shim.leaves[i - 1]) return false;
    const Leaf& leaf = leaves[shim.leaves[i]];
    total += leaf.thickness.v;
    variance += leaf.u_nm * leaf.u_nm;
    if (i > 0) variance += 2000.0 * 2000.0 / 3;
  }
  if (total != shim.total.v || wanted.v - total != shim.remaining.v) return false;
  // A thousandth of a nanometer is nothing that a leaf has; the last bits of a root are not a mistake.
  return std::abs(std::sqrt(variance) - shim.u_nm) < 1e-3;
}

}  // namespace stickwright
