// Counts: W. H. Cutler, "The six-piece burr", Journal of Recreational Mathematics 10(4), 1977-78.
#include <gtest/gtest.h>

#include <thread>

#include "support/six_sticks.h"
#include "takeapart/takeapart.h"

namespace stickwright {
namespace {

bool comes_apart(const std::vector<Cells>& sticks) {
  return take_apart(notched(), sticks, {.certificates = false}).verdict == Verdict::found;
}

int all_threads() {
  return std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
}

TEST(SixSticks, AllPiecesMakeAsManyBurrsAsPublished) {
  const six_sticks::Census c = six_sticks::census(six_sticks::is_connected, comes_apart, all_threads());
  EXPECT_EQ(c.burrs, 119'979u);
  EXPECT_EQ(c.pieces_in_burrs, 369u);
}

TEST(SixSticks, TheCheckerTakesEveryNotchableBurrApartByTheSteps) {
  const auto is_sawn = [](auto piece) { return six_sticks::is_connected(piece) && six_sticks::is_notchable(piece); };
  for (const six_sticks::Burr& burr : six_sticks::burrs_that_come_apart(is_sawn, comes_apart, all_threads())) {
    const std::vector<Cells> sticks = six_sticks::cells_of({six_sticks::kAllSticks, burr});
    EXPECT_TRUE(check_take_apart(notched(), sticks, take_apart(notched(), sticks).steps));
  }
}

}  // namespace
}  // namespace stickwright
