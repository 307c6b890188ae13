// published_counts.h - numbers of connected cell sets as printed in the On-Line Encyclopedia of Integer Sequences.
#pragma once
#include <gtest/gtest.h>

#include <cstdint>
#include <ostream>
#include <string>
#include <vector>

#include "support/more_families.h"
#include "support/shape_counts.h"

namespace stickwright {

struct PublishedCounts {
  const Family* family;
  int quick, slow;  // numbers of cells to which the ordinary and the slow tests count
  // For 1, 2, ... cells; empty where no sequence is known to us. None of these numbers was computed here.
  std::vector<std::int64_t> fixed, one_sided, free;

  friend std::ostream& operator<<(std::ostream& out, const PublishedCounts& p) { return out << p.family->name(); }
};

inline std::vector<PublishedCounts> published_counts() {
  return {
      {&notched(),
       9,
       12,
       {1, 3, 15, 86, 534, 3481, 23502, 162913, 1152870, 8294738, 60494549, 446205905},  // A001931
       {1, 1, 2, 8, 29, 166, 1023, 6922, 48311, 346543, 2522522, 18598427},              // A000162
       {1, 1, 2, 7, 23, 112, 607, 3811, 25413, 178083, 1279537, 9371094}},               // A038119
      {&mitered(),
       11,
       15,
       {},
       {},
       {1, 1, 2, 5, 14, 47, 172, 691, 2881, 12449, 54782, 244992, 1107240, 5050360, 23202236}},  // A385024
      {&rhombic_dodecahedra(),
       7,
       9,
       {1, 6, 50, 475, 4881, 52835, 593382, 6849415, 80757819},  // A039742
       {1, 1, 5, 28, 225, 2274, 24955, 286143, 3367443},         // A038172
       {1, 1, 4, 20, 131, 1211, 12734, 144158, 1687737}},        // A038173
      {&rhombic_pyramids(),
       9,
       12,
       {},
       {},
       {1, 2, 4, 14, 43, 197, 850, 4154, 20371, 103405, 530355, 2760533}},  // A385274 without its term for no cells
      {&square_bipyramids(),
       8,
       10,
       {3, 12, 68, 438, 3054, 22417, 170610, 1334316, 10660143, 86630520},  // A365655
       {},
       {1, 1, 5, 16, 90, 537, 3826, 28655, 225534, 1816995}},  // A365654
  };
}

// Compares the counts, one kind of them, with the published ones as far as there are any.
inline void expect_published(const std::vector<std::int64_t>& published, const std::vector<ShapeCounts>& counts,
                             std::int64_t ShapeCounts::*kind) {
  if (published.empty()) return;
  ASSERT_GE(published.size(), counts.size());
  for (std::size_t i = 0; i < counts.size(); ++i) EXPECT_EQ(counts[i].*kind, published[i]) << i + 1 << " cells";
}

// Counts the family's shapes of at most so many cells.
inline void expect_published(const PublishedCounts& published, int most) {
  const std::vector<ShapeCounts> counts = count_shapes(*published.family, most);
  ASSERT_EQ(counts.size(), static_cast<std::size_t>(most));
  ASSERT_FALSE(published.free.empty());
  expect_published(published.fixed, counts, &ShapeCounts::fixed);
  expect_published(published.one_sided, counts, &ShapeCounts::one_sided);
  expect_published(published.free, counts, &ShapeCounts::free);
}

inline std::string name_of_case(const testing::TestParamInfo<PublishedCounts>& published) {
  return word_for(*published.param.family);
}

class PublishedShapes : public testing::TestWithParam<PublishedCounts> {};
INSTANTIATE_TEST_SUITE_P(Families, PublishedShapes, testing::ValuesIn(published_counts()), name_of_case);

}  // namespace stickwright
