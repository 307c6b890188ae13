// rays.h - the extreme rays of a cone {x : rows . x >= 0}, in whole numbers.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

namespace stickwright {

using WholeRows = std::vector<std::vector<std::int64_t>>;

inline constexpr std::size_t kMostRayRows = 512;

// The rays, in lowest terms and sorted.
//   rows     [m][n]; their rank is n, so that the cone has an apex
//   returns  nothing at a limit: more than `most` rays at once, more than kMostRayRows rows, numbers beyond 62 bits
std::optional<WholeRows> extreme_rays(const WholeRows& rows, std::size_t columns, std::size_t most);

}  // namespace stickwright
