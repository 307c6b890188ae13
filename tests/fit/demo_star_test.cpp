// The play of the demo batch's star: found from neighbor to neighbor, proved by solvers that know no list.
#include <gtest/gtest.h>

#include "batch/fit_inputs.h"
#include "closing/binding_parts.h"
#include "fit/puzzle_plays.h"

namespace stickwright {
namespace {

TEST(DemoStar, IsJudgedByNeighborsAsByFreshSolutions) {
  const BatchPlan plan = plan_set_ups(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml").take();
  const ClosedPuzzle closed = closed_puzzle(plan, plan.puzzles.at(0));
  const PuzzleErrors errors = puzzle_errors(closed, shop_known(plan));
  const PuzzlePlays plays(errors, gap_forms(closed, errors.faces, block_contacts(closed)), 1, 3);
  const FitProgram& program = plays.program();
  ASSERT_EQ(program.parts().parts.size(), 1U);
  ASSERT_EQ(play_by(program.parts().parts[0]), PlayBy::neighbors);

  std::vector<double> values, h;
  plays.gaps(0, values, h);
  const std::size_t samples = h.size() / program.rows();
  std::vector<double> found(samples), back(samples);
  VertexWalk walk(program), other(program), positions(program);
  walk.play(h, samples, found);
  for (std::size_t i = samples; i-- > 0;) {
    const auto one = std::span<const double>(h).subspan(i * program.rows(), program.rows());
    EXPECT_NEAR(other.play(one), found[i], 1e-12);
    EXPECT_NEAR(program.solve(one).play_mm, found[i], 5e-10);
    EXPECT_NEAR(positions.fit(one).play_mm, found[i], 5e-10);
  }
}

}  // namespace
}  // namespace stickwright
