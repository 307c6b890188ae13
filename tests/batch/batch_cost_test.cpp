// What one puzzle costs, against what the sticks and the week say of the whole batch.
#include "batch/batch_cost.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "batch/rack_use.h"
#include "batch/stick_places.h"
#include "support/two_puzzles.h"

namespace stickwright {
namespace {

struct Planned {
  Scratch scratch{"batch_cost"};
  BatchPlan plan;
  StickPlan sticks;
  std::vector<PuzzleCost> costs;
  Planned() {
    auto read = plan_set_ups(two_puzzles(scratch));
    EXPECT_TRUE(read) << read.problem().say;
    plan = read.take();
    sticks = plan_batch_sticks(plan).take();
    costs = puzzle_costs(plan, sticks);
  }
  int copies(const PuzzleCost& c) const { return plan.puzzles[c.puzzle].copies; }
};

const Planned& planned() {
  static const Planned p;
  return p;
}

TEST(BatchCost, WoodOfAllPuzzlesIsEveryStickThatIsUsed) {
  for (const WoodPlan& w : planned().sticks.woods) {
    double sticks = 0, costs = 0;
    for (const CutStick& s : w.plan.sticks) sticks += to_mm(s.length).v;
    for (const PuzzleCost& c : planned().costs)
      for (const WoodCost& wood : c.woods)
        if (wood.wood == w.wood) costs += planned().copies(c) * wood.whole().v;
    EXPECT_NEAR(costs, sticks, 1e-6) << w.wood;
  }
}

TEST(BatchCost, PartsOfItAreWhatTheStickPlanHas) {
  const Planned& p = planned();
  double spares = 0, tests = 0, heads = 0, left = 0, blocks = 0;
  for (const PuzzleCost& c : p.costs)
    for (const WoodCost& w : c.woods) {
      const int n = p.copies(c);
      blocks += n * (w.in_blocks + w.kerf).v, spares += n * w.spares.v, tests += n * w.tests.v;
      heads += n * w.heads.v, left += n * w.left.v;
    }
  double spares_planned = 0, tests_planned = 0, left_planned = 0, parts = 0;
  for (const WoodPlan& w : p.sticks.woods) {
    for (const WantedPart& part : w.parts) {
      const double each = to_mm(part.part.length).v;
      parts += part.part.count * each;
      if (part.is_test) tests_planned += each;
      if (!part.is_test) spares_planned += p.plan.set_ups[part.set_up].spares.at(w.wood) * each;
    }
    for (const CutStick& s : w.plan.sticks) left_planned += to_mm(s.left).v;
  }
  EXPECT_NEAR(spares, spares_planned, 1e-6);
  EXPECT_NEAR(tests, tests_planned, 1e-6);
  EXPECT_NEAR(left, left_planned, 1e-6);
  EXPECT_NEAR(heads, p.sticks.used() * to_mm(p.sticks.rules.head).v, 1e-6);
  EXPECT_NEAR(blocks + spares + tests, parts, 1e-6);
}

// By hand: the rhombic dodecahedron inside, with corners (2, 0, 0) and (1, 1, 1), is a cube of side 2 and as much
// again: 16 cubic units. The pyramid on each face is as high as the face is from the middle, so all of them are as much
// again.
TEST(BatchCost, FinishedBlocksOfAStarAreItsVolume) {
  const double unit = 16 / std::numbers::sqrt2;
  double cm3 = 0;
  for (const WoodCost& w : planned().costs[0].woods) cm3 += w.blocks_cm3;
  EXPECT_NEAR(cm3, 32 * unit * unit * unit / 1000, 1e-9);
}

TEST(BatchCost, WorkOfAllPuzzlesIsTheWorkOfTheWeek) {
  const Planned& p = planned();
  const auto week = plan_week(p.plan, p.sticks);
  ASSERT_TRUE(week) << week.problem().say;
  std::map<Work, double> tasks, costs;
  for (const Task& t : week.value().tasks) tasks[t.work] += static_cast<double>(t.hands_on);
  for (const PuzzleCost& c : p.costs)
    for (const WorkCost& w : c.work) costs[w.kind] += p.copies(c) * w.hands_on_s;
  ASSERT_EQ(tasks.size(), costs.size());
  for (const auto& [kind, seconds] : tasks) EXPECT_NEAR(costs[kind], seconds, 1e-6) << to_string(kind);
}

// By hand from the shop file, each puzzle: fitting 12 min, two coats of 6 min, packing 4 min; glue cures 24 h, each
// coat dries 12 h. An arm's two joints are both at its first block, so they are glued at once.
TEST(BatchCost, HoursOfOneStarByHand) {
  const PuzzleCost& star = planned().costs[0];
  std::map<Work, double> s;
  for (const WorkCost& w : star.work) s[w.kind] = w.hands_on_s;
  EXPECT_NEAR(s[Work::fitting], 12 * 60, 1e-9);
  EXPECT_NEAR(s[Work::finishing], 2 * 6 * 60, 1e-9);
  EXPECT_NEAR(s[Work::packing], 4 * 60, 1e-9);
  EXPECT_NEAR(s[Work::gluing], 6 * 2 * 90, 1e-9);
  EXPECT_NEAR(s[Work::easing], 6 * 3 * 60, 1e-9);
  EXPECT_EQ(star.waits, (24 + 12 + 12) * 3600);
}

TEST(RackUse, TakesEveryStickOfThePlanAndNoMoreThanThereAre) {
  const Planned& p = planned();
  int used = 0, rough = 0, to_mill = 0;
  for (const RackUse& r : rack_use(p.plan, p.sticks)) {
    EXPECT_GE(r.left(), 0);
    used += r.used;
    if (!r.milled) rough += r.used;
  }
  for (const WoodPlan& w : p.sticks.woods) to_mill += w.to_mill;
  EXPECT_EQ(used, p.sticks.used());
  EXPECT_EQ(rough, to_mill);
}

TEST(MissingSticks, NoneWhereTheRackHoldsTheBatch) {
  EXPECT_TRUE(missing_sticks(planned().plan).empty());
}

TEST(MissingSticks, AsManyMoreMakeTheBatchPossibleAndOneLessDoesNot) {
  BatchPlan plan = planned().plan;
  const std::string wood = planned().sticks.woods.back().wood;
  std::erase_if(plan.batch.shop.rack, [&](const RackStick& r) { return r.wood == wood; });
  plan.batch.shop.rack.push_back({wood, Mm{16}, Mm{250}, 1, {}});
  ASSERT_FALSE(plan_batch_sticks(plan));
  const auto missing = missing_sticks(plan);
  ASSERT_EQ(missing.size(), 1U);
  EXPECT_EQ(missing[0].wood, wood);
  EXPECT_EQ(missing[0].length, Mm{250});
  plan.batch.shop.rack.back().count += missing[0].more - 1;
  EXPECT_FALSE(plan_batch_sticks(plan));
  plan.batch.shop.rack.back().count += 1;
  EXPECT_TRUE(plan_batch_sticks(plan));
}

// Corners of a slanted section, and what is between two parts.
TEST(StickPlaces, MitersOfNeighborsAreParallelAKerfApart) {
  const Planned& p = planned();
  const double kerf = std::numbers::sqrt2 * 2.61, unit = 16 / std::numbers::sqrt2;
  int slanted = 0, pointed = 0;
  for (const WoodPlan& w : p.sticks.woods)
    for (const CutStick& s : w.plan.sticks) {
      const auto parts = parts_on_stick(p.plan, p.sticks, w, s);
      ASSERT_EQ(parts.size(), s.parts.size());
      EXPECT_NEAR(parts.front().near.axis.v, to_mm(p.sticks.rules.head).v, 1e-9);
      EXPECT_GE(std::min(parts.front().near.upper, parts.front().near.lower).v, 0);
      for (std::size_t k = 0; k + 1 < parts.size(); ++k) {
        const MiterAlong &a = parts[k].far, &b = parts[k + 1].near;
        for (const double gap : {(b.axis - a.axis).v, (b.upper - a.upper).v, (b.eye - a.eye).v, (b.lower - a.lower).v})
          EXPECT_NEAR(gap, kerf, 1e-9);
      }
      EXPECT_NEAR(parts.back().far.axis.v + kerf + to_mm(s.left).v, to_mm(s.length).v, 1e-6);
      for (const PartOnStick& part : parts)
        for (const MiterAlong& m : {part.near, part.far}) {
          // The plane is at 45 degrees: opposite corners are a diagonal apart along the stick, or level.
          EXPECT_NEAR((m.upper + m.lower).v / 2, m.axis.v, 1e-9);
          const double a = (m.upper - m.axis).v, b = (m.eye - m.axis).v;
          EXPECT_NEAR(std::hypot(a, b), unit, 1e-9);
          (std::abs(a) > 1 ? slanted : pointed) += 1;
        }
    }
  EXPECT_GT(slanted, 0);
  EXPECT_GT(pointed, 0);
}

// What the forward model cuts: the two planes that part the block from the stick lean towards each other as drawn.
TEST(StickPlaces, LengthsAtTheCornersAreThoseOfTheCutBlank) {
  const Planned& p = planned();
  for (const WoodPlan& w : p.sticks.woods)
    for (const CutStick& s : w.plan.sticks)
      for (const PartOnStick& part : parts_on_stick(p.plan, p.sticks, w, s)) {
        if (w.parts[part.part].is_test) continue;
        const Program& program = p.plan.set_ups[w.parts[part.part].set_up].program;
        const auto severs =
            std::find_if(program.cuts.begin(), program.cuts.end(), [](const Cut& c) { return c.severs; });
        // Along the four corner lines; the one turned away lies as far from the middle as that to the eye.
        std::vector<double> drawn, exact;
        const double unit = unit_mm(p.plan.batch.stick), middle = (part.far.axis - part.near.axis).v;
        const double eye = (part.far.eye - part.near.eye).v;
        for (const double length :
             {(part.far.upper - part.near.upper).v, (part.far.lower - part.near.lower).v, eye, 2 * middle - eye})
          drawn.push_back(length);
        const HalfSpace near = plane_of(program.start), far = plane_of(severs->miter);
        for (const auto& [a, b] : {std::pair{1, 0}, {0, 1}, {-1, 0}, {0, -1}}) {
          const auto t_on = [&, a = a, b = b](const HalfSpace& h) {
            return (static_cast<double>(h.c) - static_cast<double>(h.n.x * a + h.n.y * b)) / static_cast<double>(h.n.z);
          };
          exact.push_back(unit * (t_on(far) - t_on(near)));
        }
        std::sort(drawn.begin(), drawn.end()), std::sort(exact.begin(), exact.end());
        for (std::size_t k = 0; k < 4; ++k) EXPECT_NEAR(drawn[k], exact[k], 0.0011);
      }
}

}  // namespace
}  // namespace stickwright
