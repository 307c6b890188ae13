#include "takeapart/frames.h"

#include <gtest/gtest.h>

#include "support/hard_designs.h"
#include "support/star_pieces.h"

namespace stickwright {
namespace {

// The boxes around two groups, standing so, share no inner point.
bool boxes_clear(const Family& family, const std::vector<Cells>& pieces, const std::vector<int>& a,
                 const std::vector<int>& b, const std::vector<Vec>& at, std::int64_t unit) {
  const auto ends = [&](const std::vector<int>& group, int axis) {
    std::int64_t low = INT64_MAX, high = INT64_MIN;
    for (int i : group)
      for (Cell c : pieces[i])
        for (Vec p : family.corners(c)) {
          low = std::min(low, unit * p[axis] + at[i][axis]);
          high = std::max(high, unit * p[axis] + at[i][axis]);
        }
    return std::pair(low, high);
  };
  for (int axis = 0; axis < 3; ++axis)
    if (ends(a, axis).second <= ends(b, axis).first || ends(b, axis).second <= ends(a, axis).first) return true;
  return false;
}

bool all_clear(const Family& family, const std::vector<Cells>& pieces, const Step& step, const std::vector<Vec>& at,
               std::int64_t unit) {
  for (const Glide& g : step.gliding())
    if (!boxes_clear(family, pieces, g.pieces, step.from, at, unit)) return false;
  return true;
}

// One step: what moves goes along its direction, all by the same multiple; the rest keeps still.
void expect_plays(const Family& family, const std::vector<Cells>& pieces, const Step& step, const Frame& frame,
                  std::int64_t unit) {
  std::vector<Vec> still = frame.after, one_less = frame.after;
  const Glide first = step.gliding()[0];
  const Vec by = frame.after[first.pieces[0]] - frame.before[first.pieces[0]];
  const int axis = first.direction.x != 0 ? 0 : first.direction.y != 0 ? 1 : 2;
  const std::int64_t times = by[axis] / first.direction[axis];
  EXPECT_GT(times, 0);
  for (const Glide& g : step.gliding())
    for (int i : g.pieces) {
      still[i] = still[i] - times * g.direction;
      one_less[i] = one_less[i] - unit * g.direction;
    }
  EXPECT_EQ(still, frame.before);
  if (!step.distance.free()) {
    EXPECT_EQ(times * step.distance.bottom, unit * step.distance.top);
    return;
  }
  EXPECT_TRUE(all_clear(family, pieces, step, frame.after, unit));
  EXPECT_TRUE(times == unit || !all_clear(family, pieces, step, one_less, unit));  // just far enough
}

void expect_plays(const Family& family, const std::vector<Cells>& pieces, const std::vector<Step>& steps) {
  const Frames frames = frames_of(family, pieces, steps);
  ASSERT_EQ(frames.steps.size(), steps.size());
  std::vector<Vec> at(pieces.size());
  for (std::size_t k = 0; k < steps.size(); ++k) {
    EXPECT_EQ(frames.steps[k].before, at);
    expect_plays(family, pieces, steps[k], frames.steps[k], frames.unit);
    at = frames.steps[k].after;
  }
}

TEST(Frames, PlayTheSteps) {
  const auto tunnel = known::cube_in_a_tunnel(known::box(4, 3, 4), {{1, 1, 1}, {1, 1, 2}, {2, 1, 2}, {2, 0, 2}});
  for (const auto& pieces : {known::star_pieces(), known::opening_together(), known::bars_around_a_corner()})
    expect_plays(mitered(), pieces, take_apart(mitered(), pieces).steps);
  expect_plays(notched(), tunnel, take_apart(notched(), tunnel).steps);
}

TEST(Frames, CountInHalvesAndThirdsWhereStepsDo) {
  const std::vector<Cells> pieces = {{{0, 4, 2}}, {{0, 4, 26}}};
  const std::vector<Step> steps = {
      {{1}, {0}, {1, 1, 0}, {1, 2}}, {{1}, {0}, {0, 0, 1}, {2, 3}}, {{1}, {0}, {0, 0, 1}, {}}};
  ASSERT_TRUE(check_take_apart(mitered(), pieces, steps));
  const Frames frames = frames_of(mitered(), pieces, steps);
  EXPECT_EQ(frames.unit, 6);
  EXPECT_EQ(frames.steps[0].after[1], (Vec{3, 3, 0}));
  EXPECT_EQ(frames.steps[1].after[1], (Vec{3, 3, 4}));
  expect_plays(mitered(), pieces, steps);
}

}  // namespace
}  // namespace stickwright
