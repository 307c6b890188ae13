// binding_parts.h - what can bind: the contacts whose forces can balance, taken apart into what has nothing to do with
// each other. For FitProgram and VertexWalk.
#pragma once
#include <optional>
#include <vector>

#include "closing/balance_matrix.h"

namespace stickwright {

// A set of forces y >= 0 that balance and add up to 1, with as few contacts as can be: a corner of the fixed polytope.
struct ForceVertex {
  std::vector<int> rows;  // positions in the part
  std::vector<double> shares;
};

// Contacts whose gaps hang together. A set of balanced forces is a mixture of ones that keep to one part each, so the
// play is the least play of the parts.
struct BindingPart {
  std::vector<int> rows;         // of the program, grouped by pairs of bodies
  Eigen::MatrixXd matrix;        // [rows][columns + 1], of full column rank, the last column all 1
  std::vector<int> first_basis;  // positions in `rows`, carrying balanced forces
  std::optional<std::vector<ForceVertex>> all_vertices;  // every one, where they are few
};

// What finds the play of a part soonest.
enum class PlayBy {
  list,       // the least of all vertices
  neighbors,  // from vertex to vertex, each with all its neighbors at hand: where few forces are free
  steps,      // of the simplex method: where there are too many vertices, or few ways to move
};
PlayBy play_by(const BindingPart& part);

struct BindingParts {
  std::vector<BindingPart> parts;
  std::vector<int> loose;        // rows that never carry a force: all of them can be opened at once,
  Eigen::VectorXd opening;       // by this displacement, each by 1 or more, with the gaps of all parts kept
  Eigen::MatrixXd displacement;  // [columns][rows of the parts, one after another]: from changes of their gaps
};

//   assumes  m.rows is of full column rank
BindingParts binding_parts(const BalanceMatrix& m);

}  // namespace stickwright
