#include "design/fit.h"

#include <fmt/core.h>

#include "design/design_file.h"

namespace stickwright {

void check_fit(const Design& d, const Table& at) {
  std::size_t pieces = 0, copies = 0;
  for (const Piece& p : d.pieces) {
    copies += static_cast<std::size_t>(p.total_copies());
    pieces += p.cells.size() * static_cast<std::size_t>(p.total_copies());
  }
  if (copies > kMaxPieces || d.goal.size() > kMaxGoalCells)
    at.report(at.place(), "too_large",
              fmt::format("{} pieces and {} cells: at most {} pieces and {} cells can be checked.", copies,
                          d.goal.size(), kMaxPieces, kMaxGoalCells));
  else if (pieces != d.goal.size())
    at.report(at.place(), "wrong_volume",
              fmt::format("the goal has {} cells, the pieces have {} in all: they cannot fill it. Correct the copies, "
                          "the pieces or the goal.",
                          d.goal.size(), pieces));
  else if (!connected(*d.family, d.goal))
    at.report(at.place(), "piece_in_parts",
              "the goal is not in one part: some of its cells share no face with the rest.");
}

}  // namespace stickwright
