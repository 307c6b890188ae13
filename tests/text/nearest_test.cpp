#include "text/nearest.h"

#include <gtest/gtest.h>

namespace stickwright {
namespace {

using Names = std::vector<std::string>;

// The usual textbook pairs, and one swap of neighbors.
TEST(EditDistance, TextbookPairs) {
  EXPECT_EQ(edit_distance("kitten", "sitting"), 3);
  EXPECT_EQ(edit_distance("saturday", "sunday"), 3);
  EXPECT_EQ(edit_distance("kref", "kerf"), 1);
  EXPECT_EQ(edit_distance("", "kerf"), 4);
}

TEST(EditDistance, IsSymmetricAndZeroOnlyForEqualWords) {
  const Names words = {"", "kerf", "kref", "stop", "stops", "pots", "square_stops"};
  for (const auto& a : words)
    for (const auto& b : words) {
      EXPECT_EQ(edit_distance(a, b), edit_distance(b, a));
      EXPECT_EQ(edit_distance(a, b) == 0, a == b);
    }
}

TEST(NearestNames, NearestFirstCapitalsAside) {
  const Names known = {"kerf", "teeth", "diameter", "kerfs"};
  EXPECT_EQ(nearest_names("KREF", known), (Names{"kerf"}));
  EXPECT_EQ(nearest_names("kerf_", known), (Names{"kerf", "kerfs"}));
  EXPECT_EQ(nearest_names("blade", known), Names{});
  EXPECT_EQ(nearest_names("kerf", known, 1), (Names{"kerf"}));
}

TEST(NearestNames, APartOfANameIsNear) {
  EXPECT_EQ(nearest_names("maple", Names{"sugar maple", "red oak"}), (Names{"sugar maple"}));
}

TEST(DidYouMean, IsEmptyWhenNothingIsNear) {
  EXPECT_EQ(did_you_mean("kref", Names{"kerf"}), " (did you mean \"kerf\"?)");
  EXPECT_EQ(did_you_mean("zzz", Names{"kerf"}), "");
}

TEST(QuotedList, JoinsWithTheLastWord) {
  EXPECT_EQ(quoted_list(Names{}), "");
  EXPECT_EQ(quoted_list(Names{"a"}), "\"a\"");
  EXPECT_EQ(quoted_list(Names{"a", "b", "c"}, "and"), "\"a\", \"b\" and \"c\"");
}

}  // namespace
}  // namespace stickwright
