// enumerate_vertices.h - every set of balanced forces of a small part.
#pragma once
#include <optional>

#include "fit/binding_parts.h"

namespace stickwright {

inline constexpr std::size_t kMostBases = 3000;

// All vertices of {y >= 0, matrix' y = (0, .., 0, 1)}.
//   basis    rows that carry a vertex
//   returns  each vertex once; empty when there are more bases than kMostBases, or rounding leaves a doubt
//   exact    the right side is moved a little, so that each vertex has one basis; the bases reached from one another by
//            exchanging a row are then all there are
std::optional<std::vector<ForceVertex>> enumerate_vertices(const Eigen::MatrixXd& matrix,
                                                           const std::vector<int>& basis);

}  // namespace stickwright
