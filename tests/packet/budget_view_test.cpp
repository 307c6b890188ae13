#include "packet/budget_view.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <regex>

#include "packet/printed_pages.h"
#include "support/example_plan.h"
#include "support/scratch.h"

namespace stickwright {
namespace {

const Budget& budget() {
  return example().batch.set_ups.back().tests.back().prediction.budget;
}

std::string drawn(Drawing drawing) {
  const auto bytes = budget_drawing({"a stop", "its batch", "2031-01-28T00:00:00", budget()}, drawing);
  EXPECT_TRUE(bytes);
  return bytes ? bytes.value() : "";
}

// Every element that is opened is closed in its turn; the attributes' quotes are in pairs.
bool well_formed(const std::string& xml) {
  std::vector<std::string> open;
  const std::regex tag("<(/?)([A-Za-z][-A-Za-z0-9:]*)((?:\\s+[-A-Za-z:]+=\"[^\"<]*\")*)\\s*(/?)>");
  std::size_t tags = 0, brackets = 0;
  for (std::sregex_iterator i(xml.begin(), xml.end(), tag), end; i != end; ++i, ++tags) {
    if ((*i)[1].length() > 0) {
      if (open.empty() || open.back() != (*i)[2]) return false;
      open.pop_back();
    } else if ((*i)[4].length() == 0) {
      open.push_back((*i)[2]);
    }
  }
  brackets = static_cast<std::size_t>(std::count(xml.begin(), xml.end(), '<'));
  const bool prolog = xml.starts_with("<?xml");
  return open.empty() && tags > 10 && tags + (prolog ? 1 : 0) == brackets;
}

TEST(BudgetView, IsAWellFormedSvgWithoutColors) {
  const std::string svg = drawn(Drawing::svg);
  EXPECT_TRUE(well_formed(svg)) << svg.substr(0, 400);
  const std::regex color("rgb\\(([0-9.]+)%, *([0-9.]+)%, *([0-9.]+)%\\)");
  int fills = 0;
  for (std::sregex_iterator i(svg.begin(), svg.end(), color), end; i != end; ++i, ++fills)
    EXPECT_TRUE((*i)[1] == (*i)[2] && (*i)[2] == (*i)[3]) << (*i)[0];
  EXPECT_GT(fills, 10);
}

TEST(BudgetView, WellFormedRefusesWhatIsNot) {
  std::string broken = drawn(Drawing::svg);
  broken.erase(broken.find("</g>"), 4);
  EXPECT_FALSE(well_formed(broken));
}

TEST(BudgetView, PrintsTheContributionsFromTheLargestOnAndLosesNothing) {
  const Scratch scratch("bars");
  const std::string text =
      in_one_line(printed_by("pdftotext -raw '" + scratch.write("bars.pdf", drawn(Drawing::pdf)) + "' -"));
  EXPECT_NE(text.find("together u = " + two_digits(budget().u) + " mm"), std::string::npos);
  std::vector<BudgetLine> lines = budget().lines;
  std::stable_sort(lines.begin(), lines.end(),
                   [](const BudgetLine& a, const BudgetLine& b) { return a.contribution > b.contribution; });
  std::size_t at = text.find("together u");
  double square = 0;
  std::size_t shown = 0;
  for (const BudgetLine& l : lines) {
    if (l.contribution * l.contribution < 0.005 * budget().u * budget().u) break;
    const std::size_t next = text.find(l.name + " " + two_digits(l.contribution), at);
    ASSERT_NE(next, std::string::npos) << l.name << " in " << text;
    at = next, square += l.contribution * l.contribution, ++shown;
  }
  ASSERT_GT(shown, 5u);
  // Independent inputs: the bars' squares add up to that of the combined u (JCGM 100:2008, 5.1.2).
  const double rest = std::sqrt(std::max(0.0, budget().u * budget().u - square));
  EXPECT_NE(text.find("smaller ones " + two_digits(rest), at), std::string::npos) << text;
}

// In an SVG the drawing library counts the pictures that a process has made, so only the first ones could be equal.
TEST(BudgetView, IsTheSamePdfEveryTime) {
  EXPECT_EQ(drawn(Drawing::pdf), drawn(Drawing::pdf));
}

TEST(BudgetView, ABudgetWithoutUncertaintyIsDrawn) {
  const std::vector<BudgetInput> inputs = {{"certain", "mm", Estimate{}, 1}};
  const Budget none = make_budget({"length", "mm", 1.0}, inputs);
  EXPECT_TRUE(budget_drawing({"a stop", "nothing", "2031-01-28T00:00:00", none}, Drawing::svg));
}

}  // namespace
}  // namespace stickwright
