// enumerate_vertices.h - every set of balanced forces of a part, where they are few.
#pragma once
#include <bitset>
#include <optional>

#include "closing/binding_parts.h"

namespace stickwright {

inline constexpr std::size_t kMostListedRows = 128;  // a part of more is not listed
inline constexpr double kLeastShare = 1e-4;          // of force, in a list

using RowSet = std::bitset<kMostListedRows>;

// What conditions y . column = 0 leave free: forces on the rows `free` can be any, and make those on the others.
struct FreeForces {
  std::vector<int> free, following;  // free: ascending
  Eigen::MatrixXd forces;            // [rows][free]: those that a force of 1 on each free row makes
};

//   conditions  [rows][conditions], of full column rank
FreeForces free_forces(const Eigen::MatrixXd& conditions);

// All vertices of {y >= 0, matrix' y = (0, .., 0, 1)}, by double description: the cone of all forces on the free rows
// is cut by y_r >= 0, one row after another.
//   returns  each vertex once, ordered by rows; empty when they are too many, or rounding leaves a doubt: a value
//            between what is 0 and what is not, or a share of force below kLeastShare
//   exact    which forces are 0 is decided by sets of rows alone, but for the sign of a row's force when it is cut:
//            there 1e-11 stands against 1e-7
//   assumes  as BindingPart::matrix
//   source   T. S. Motzkin et al., "The double description method" (1953); from memory
std::optional<std::vector<ForceVertex>> enumerate_vertices(const Eigen::MatrixXd& matrix);

}  // namespace stickwright
