#include "text/source.h"

#include <gtest/gtest.h>

namespace stickwright {
namespace {

TEST(Source, LinesEndInLfOrCrLf) {
  EXPECT_EQ(make_source("f", "a\r\nb\n\nc").lines, (std::vector<std::string>{"a", "b", "", "c"}));
  EXPECT_TRUE(make_source("f", "").lines.empty());
}

TEST(Source, TheCaretStandsUnderTheColumn) {
  const auto problem = problem_at(make_source("f", "one\n\ttwo = 2\n"), {2, 8}, "code", "say");
  EXPECT_EQ(problem.where, "f:2:8");
  EXPECT_EQ(problem.excerpt, "\ttwo = 2\n\t      ^");
}

TEST(Source, APlaceBehindTheTextShowsWhatThereIs) {
  EXPECT_EQ(problem_at(make_source("f", "one"), {1, 5}, "code", "say").excerpt, "one\n    ^");
  EXPECT_EQ(problem_at(make_source("f", "one"), {7, 1}, "code", "say").excerpt, "");
  EXPECT_EQ(problem_at(make_source("f", "one"), {}, "code", "say").where, "f");
}

TEST(Source, OfAVeryLongLineOnlyThePartAroundThePlaceIsShown) {
  std::string line(5000, 'a');
  line.append(1, 'X').append(5000, 'b');
  const std::string excerpt = problem_at(make_source("f", line), {1, 5001}, "code", "say").excerpt;
  const std::size_t end = excerpt.find('\n');
  EXPECT_LT(excerpt.size(), 300u);
  EXPECT_EQ(excerpt[excerpt.size() - 1 - (end + 1)], 'X');  // the caret's column
}

}  // namespace
}  // namespace stickwright
