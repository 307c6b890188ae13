// Blocks sorted by their widths, through the built program; every play that it claims is computed again.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <random>
#include <set>

#include "batch/fit_inputs.h"
#include "cli/run.h"
#include "closing/closed_fit.h"
#include "support/scratch.h"

namespace stickwright {
namespace {

using Json = nlohmann::json;
using Pair = std::array<double, 2>;                      // what both widths of a block are off, mm
using Shelf = std::map<std::string, std::vector<Pair>>;  // by wood, block 1 first

// The star alone, its six arms of the woods given.
std::string star_batch(const Scratch& s, int copies, const std::string& woods) {
  const std::string from = STICKWRIGHT_SOURCE "/examples/wrenfield/";
  for (const char* file : {"shop.toml", "star.toml"}) s.write(file, slurp(from + file));
  return s.write("batch.toml",
                 "format = 1\nname = \"stars\"\nshop = \"shop.toml\"\nstick = \"16 mm\"\nstart = 2031-01-28\n"
                 "due = 2031-04-05\nspares = \"8 %\"\nspares_at_least = 2\ntolerance = \"0.05 mm\"\n"
                 "[[puzzle]]\ndesign = \"star.toml\"\ncopies = " +
                     std::to_string(copies) + "\nwoods = { arm = " + woods + " }\n");
}

void record_all(const std::string& batch, const Shelf& shelf) {
  for (const auto& [wood, blocks] : shelf) {
    std::string values;
    for (const Pair& p : blocks)
      values.append(" ").append(std::to_string(16 + p[0])).append("/").append(std::to_string(16 + p[1]));
    const Ran r =
        run_program_with("record " + batch + " --setup squat-octahedron --width --wood '" + wood + "'" + values);
    ASSERT_EQ(r.exit_code, 0) << r.err;
  }
}

// The play of a star whose blocks have these widths, by the linear solver from gaps computed anew.
class Star {
 public:
  explicit Star(const std::string& batch) : plan_(plan_set_ups(batch).take()) {
    ShopKnown shop = shop_known(plan_);
    shop.own_sticks = true;
    closed_ = closed_puzzle(plan_, plan_.puzzles[0]);
    errors_ = puzzle_errors(closed_, shop);
    gaps_ = gap_forms(closed_, errors_.faces, block_contacts(closed_));
    program_ = std::make_unique<FitProgram>(gaps_.rows);
  }
  // By block of the puzzle; blocks that are not named are of the planned size.
  double play(const std::map<int, Pair>& widths) const {
    std::vector<double> x(errors_.values());
    x[0] = 1;
    for (std::size_t k = 0; k < errors_.numbers.size(); ++k)
      if (errors_.numbers[k].size_of == SizeOf::glue_line) x[k + 1] = errors_.numbers[k].off.value;
    for (const WidthNumber& w : errors_.widths)
      if (widths.contains(w.block))
        x[static_cast<std::size_t>(w.number)] = widths.at(w.block)[static_cast<std::size_t>(w.side - 1)];
    errors_.derive(x);
    std::vector<double> h;
    for (const Form& f : gaps_.gap) h.push_back(f(x));
    return program_->solve(h).play_mm;
  }
  int block_at(const std::string& piece, int block) const {
    for (std::size_t b = 0; b < closed_.blocks.size(); ++b)
      if (closed_.pieces[static_cast<std::size_t>(closed_.blocks[b].piece)].name == piece &&
          closed_.blocks[b].block == block)
        return static_cast<int>(b);
    return -1;
  }
  // The octahedra, by wood, in the order of the puzzle's blocks.
  std::map<std::string, std::vector<int>> octahedra() const {
    std::map<std::string, std::vector<int>> out;
    for (std::size_t b = 0; b < closed_.blocks.size(); ++b)
      if (set_up_id(plan_, plan_.set_ups[static_cast<std::size_t>(closed_.blocks[b].shape)]) == "squat-octahedron")
        out[closed_.blocks[b].wood].push_back(static_cast<int>(b));
    return out;
  }

 private:
  BatchPlan plan_;
  ClosedPuzzle closed_;
  PuzzleErrors errors_;
  GapForms gaps_;
  std::unique_ptr<FitProgram> program_;
};

std::map<int, Pair> widths_of_places(const Star& star, const Shelf& shelf, const Json& puzzle) {
  std::map<int, Pair> out;
  for (const Json& p : puzzle["places"])
    out[star.block_at(p["piece"], p["block"].get<int>() - 1)] = shelf.at(p["wood"])[p["number"].get<std::size_t>() - 1];
  return out;
}

double as_they_come(const Star& star, const Shelf& shelf, int copies) {
  std::map<std::string, std::size_t> next;
  double worst = INFINITY;
  for (int copy = 0; copy < copies; ++copy) {
    std::map<int, Pair> widths;
    for (const auto& [wood, places] : star.octahedra())
      for (const int b : places) widths[b] = shelf.at(wood)[next[wood]++];
    worst = std::min(worst, star.play(widths));
  }
  return worst;
}

TEST(SortWidths, SixtySixBlocksMakeTenBetterStarsAndEveryPlayIsWhatTheSolverSays) {
  const Scratch s("sort_widths");
  const std::string batch = star_batch(s, 10,
                                       "[\"black cherry\", \"black cherry\", \"sugar maple\", \"sugar maple\", "
                                       "\"black walnut\", \"black walnut\"]");
  std::mt19937 random(7);
  std::uniform_int_distribution<int> um10(-5, 5);  // as a caliper with steps of 0.01 mm reads
  Shelf shelf;
  for (const char* wood : {"black cherry", "sugar maple", "black walnut"})
    for (int k = 0; k < 22; ++k) shelf[wood].push_back({um10(random) / 100.0, um10(random) / 100.0});
  record_all(batch, shelf);
  const Ran r = run_program_with("sort " + batch + " --json");
  ASSERT_EQ(r.exit_code, 0) << r.err;
  const Json j = Json::parse(r.out);
  const Star star(batch);
  double worst = INFINITY;
  std::set<std::pair<std::string, int>> used;
  ASSERT_EQ(j["puzzles"].size(), 10u);
  for (const Json& puzzle : j["puzzles"]) {
    ASSERT_EQ(puzzle["places"].size(), 6u);
    for (const Json& p : puzzle["places"]) {
      EXPECT_TRUE(used.emplace(p["wood"].get<std::string>(), p["number"].get<int>()).second)
          << "a block stands in two places";
      const Pair off = shelf.at(p["wood"])[p["number"].get<std::size_t>() - 1];
      EXPECT_NEAR(p["width_1_off_mm"], off[0], 1e-9);
      EXPECT_NEAR(p["width_2_off_mm"], off[1], 1e-9);
    }
    const double play = star.play(widths_of_places(star, shelf, puzzle));
    EXPECT_NEAR(puzzle["play_mm"], play, 1e-6);
    worst = std::min(worst, play);
  }
  EXPECT_EQ(j["left"].size(), 6u);
  EXPECT_NEAR(j["worst_play_mm"], worst, 1e-6);
  EXPECT_NEAR(j["as_they_come_mm"], as_they_come(star, shelf, 10), 1e-6);
  EXPECT_GT(worst, j["as_they_come_mm"].get<double>() + 0.003);
  EXPECT_LE(worst, j["bound_mm"].get<double>() + 1e-7);
}

// Six kinds, of each one thick block and one thin: of 2^5 ways to make two stars the best is known by trying all.
TEST(SortWidths, OneThickAndOneThinBlockAKindGoAsTryingAllWaysSays) {
  const Scratch s("sort_widths");
  const std::vector<std::string> woods = {"white ash", "black cherry", "black walnut",
                                          "white oak", "sugar maple",  "yellow birch"};
  std::string list;
  for (const std::string& wood : woods) list += (list.empty() ? "\"" : ", \"") + wood + "\"";
  const std::string batch = star_batch(s, 2, "[" + list + "]");
  constexpr double kOff = 0.04;
  Shelf shelf;
  for (const std::string& wood : woods) shelf[wood] = {{kOff, kOff}, {-kOff, -kOff}};
  record_all(batch, shelf);
  const Ran r = run_program_with("sort " + batch + " --json");
  ASSERT_EQ(r.exit_code, 0) << r.err;
  const Json j = Json::parse(r.out);
  const Star star(batch);
  const auto octahedra = star.octahedra();
  ASSERT_EQ(octahedra.size(), 6u);
  const auto play = [&](unsigned thick) {
    std::map<int, Pair> widths;
    unsigned k = 0;
    for (const auto& [wood, places] : octahedra) {
      const double off = (thick >> k++ & 1) ? kOff : -kOff;
      widths[places.at(0)] = {off, off};
    }
    return star.play(widths);
  };
  double best = -INFINITY, worst = INFINITY;
  for (unsigned thick = 0; thick < 32; ++thick) {
    const double both = std::min(play(thick), play(63 - thick));
    best = std::max(best, both), worst = std::min(worst, both);
  }
  EXPECT_TRUE(j["proven"]);
  EXPECT_NEAR(j["worst_play_mm"], best, 1e-6);
  EXPECT_GT(best, worst + 0.005) << "else there is nothing to sort";
}

TEST(SortWidths, WithoutReadingsThatMatterItSaysWhatToRecord) {
  const Scratch s("sort_widths");
  const std::string batch = star_batch(s, 1, "\"black walnut\"");
  const Ran r = run_program_with("sort " + batch);
  EXPECT_EQ(r.exit_code, 2);
  EXPECT_NE(r.err.find("--width"), std::string::npos) << r.err;
}

// `fit` gives stop 1 of the octahedron no slope: it moves gaps, but the arms shift and make up for it.
TEST(SortWidths, ASizeThatPiecesMakeUpForIsNotSortedBy) {
  const Scratch s("sort_widths");
  const std::string batch = star_batch(s, 1, "\"black walnut\"");
  const std::string record = "record " + batch + " --setup squat-octahedron --wood walnut ";
  ASSERT_EQ(run_program_with(record + "--block 1 16.02 15.98 16.01 15.99 16.00 16.03").exit_code, 0);
  EXPECT_NE(run_program_with("sort " + batch).err.find("[nothing_to_sort]"), std::string::npos);
  ASSERT_EQ(run_program_with(record + "--width --block 1 16.02 15.98").exit_code, 0);
  const Json j = Json::parse(run_program_with("sort " + batch + " --json").out);
  for (const Json& p : j["puzzles"][0]["places"]) EXPECT_TRUE(p["off_mm"].is_null());
}

TEST(SortWidths, OneWidthMeasuredIsEnoughAndUnnumberedReadingsAreLeftOut) {
  const Scratch s("sort_widths");
  const std::string batch = star_batch(s, 2, "\"black walnut\"");
  const std::string record = "record " + batch + " --setup squat-octahedron --wood walnut ";
  ASSERT_EQ(run_program_with(record + "--width 16.03 15.97 16.02 15.98").exit_code, 0);
  ASSERT_EQ(run_program_with(record + "--width --block 1 16.04").exit_code, 0) << "measured again: this one counts";
  const Ran r = run_program_with("sort " + batch + " --json");
  ASSERT_EQ(r.exit_code, 0) << r.err;
  const Json j = Json::parse(r.out);
  std::map<int, double> off;
  int unmeasured = 0;
  for (const Json& puzzle : j["puzzles"])
    for (const Json& p : puzzle["places"]) {
      EXPECT_TRUE(p["width_2_off_mm"].is_null());
      if (p["number"].is_null())
        ++unmeasured;
      else
        off[p["number"]] = p["width_1_off_mm"];
    }
  EXPECT_EQ(unmeasured, 12 - 4);
  ASSERT_EQ(off.size(), 4u);
  EXPECT_NEAR(off[1], 0.04, 1e-9);
  EXPECT_NEAR(off[4], -0.02, 1e-9);
  const Star star(batch);
  constexpr double kMean = (0.04 - 0.03 + 0.02 - 0.02) / 4;  // of the blocks that were measured
  for (const Json& puzzle : j["puzzles"]) {
    std::map<int, Pair> widths;
    for (const Json& p : puzzle["places"])
      widths[star.block_at(p["piece"], p["block"].get<int>() - 1)] = {
          p["number"].is_null() ? kMean : p["width_1_off_mm"].get<double>(), 0};
    EXPECT_NEAR(puzzle["play_mm"], star.play(widths), 1e-6);
  }
}

}  // namespace
}  // namespace stickwright
