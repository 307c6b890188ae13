#include "batch/shapes_cut.h"

#include <stdexcept>

#include "saw/program.h"

namespace stickwright {

Split split_with_grain(const std::vector<MadePiece>& made) {
  Split split = split_pieces(made);
  for (std::size_t i = 0; i < made.size(); ++i)
    if (!check_glue_up(split.pieces[i], split.shapes, made[i].cells))
      throw std::logic_error("the independent checker refuses a glue-up");
  std::vector<int> axes;
  for (const Block& b : split.shapes) {
    const auto program = plan_cuts(b);
    axes.push_back(program ? program->stick_axis : b.stick_axes.front());
  }
  run_grain(split, axes);
  return split;
}

}  // namespace stickwright
