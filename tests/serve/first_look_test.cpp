// A first look ends in time, never says no where it only stopped, and shows the pieces all the same.
#include "serve/first_look.h"

#include <algorithm>
#include <chrono>
#include <set>

#include "design/design_file.h"
#include "puzzle_calls.h"
#include "serve/as_blocks.h"
#include "serve/glue_asked.h"

namespace stickwright {
namespace {

using nlohmann::json;
using namespace std::chrono_literals;

// 25 pieces of five cubes in a cube of 5: a row of four, and one beside its second.
const char* const kHooks =
    "format = 1\nname = \"hooks\"\nfamily = \"notched\"\n\n[goal]\nbox = [5, 5, 5]\n\n[[piece]]\nname = \"hook\"\n"
    "copies = 25\nstick = [4, 2, 1]\nnotches = [[0, 1, 0], [2, 1, 0], [3, 1, 0]]\n";

TEST_F(PuzzleCalls, ALongSearchAnswersInTimeAndSaysThatItStopped) {
  put("hooks.toml", kHooks);
  const auto begun = std::chrono::steady_clock::now();
  const json p = get("/api/puzzle", {{"design", "hooks.toml"}});
  EXPECT_LT(std::chrono::steady_clock::now() - begun, 4s);  // twice what is promised, for a busy machine
  EXPECT_EQ(p["stopped_early"], true);
  EXPECT_EQ(p["assemblies"]["complete"], false);
  EXPECT_NE(p["verdict"], "none");
  EXPECT_NE(p["says"].dump().find("stopped early"), std::string::npos);
  EXPECT_NE(p["says"].dump().find("All assemblies"), std::string::npos);
  EXPECT_EQ(p["pieces"].size(), 25u);
}

TEST(FirstLookTest, WithoutTimeNothingIsSaidToBeProvenAndThePiecesLieApart) {
  for (const char* file : {"star.toml", "second.toml"}) {
    Design d = load_design(std::string(STICKWRIGHT_SOURCE "/examples/wrenfield/") + file).take();
    const Family& family = *d.family;
    const DesignPlan plan{d, d, made_pieces(d), {}, {}, {}, {}, {}, {}};
    EXPECT_TRUE(nothing_yet(plan));
    const auto lying = laid_side_by_side(plan);
    std::int64_t supplied = 0;
    for (const Piece& p : d.pieces) supplied += p.total_copies();
    ASSERT_EQ(std::ssize(lying), supplied);
    std::set<std::string> names;
    Cells all;
    for (const StandingPiece& p : lying) {
      EXPECT_TRUE(names.insert(p.name).second);
      EXPECT_EQ(shape_of(family, p.cells).shape,
                shape_of(family, plan.made[static_cast<std::size_t>(p.made)].cells).shape);
      for (Cell c : p.cells) {
        EXPECT_TRUE(family.is_cell(c));
        all.push_back(c);
      }
    }
    std::sort(all.begin(), all.end());
    EXPECT_EQ(std::adjacent_find(all.begin(), all.end()), all.end());
    // Nothing touches: each piece is a part of its own.
    for (const StandingPiece& p : lying)
      for (Cell c : p.cells)
        for (Cell n : family.neighbors(c))
          EXPECT_EQ(std::binary_search(p.cells.begin(), p.cells.end(), n),
                    std::binary_search(all.begin(), all.end(), n));
  }
}

TEST(FirstLookTest, ASearchThatIsCutShortIsStoppedNotNone) {
  const Design d = parse_design(kHooks, "hooks.toml").take();
  const FirstLook look = first_look(d, {.assemblies = 0ms, .in_all = 0ms});
  EXPECT_TRUE(look.plan.stopped());
  EXPECT_EQ(look.plan.take_apart.verdict, Verdict::stopped);
  EXPECT_FALSE(look.plan.works());
}

TEST_F(PuzzleCalls, ThePiecesAreSplitOnceAndALongerSearchIsLearnedFrom) {
  const auto first = bench_->plans().look("star.toml").value();
  ASSERT_TRUE(first->split);
  EXPECT_EQ(bench_->plans().look("star.toml").value(), first);
  const std::string state = version_of(text("star.toml"));
  DesignPlan open = first->plan;
  open.assemblies.verdict = Verdict::stopped;
  bench_->plans().learn("star.toml", state, open);  // less than is known already
  EXPECT_EQ(bench_->plans().look("star.toml").value(), first);
  DesignPlan whole = first->plan;
  whole.assemblies.count = 7;
  bench_->plans().learn("star.toml", state, whole);
  EXPECT_EQ(get("/api/puzzle", {{"design", "star.toml"}})["assemblies"]["count"], 7);
  put("star.toml", text("star.toml") + "# a note\n");
  EXPECT_EQ(get("/api/puzzle", {{"design", "star.toml"}})["assemblies"]["count"], 1);
}

// Pieces grown cell by cell, so that joints of every kind come up; some blocks can only be placed by themselves.
TEST(AsBlocksTest, TheBlocksOfAnyPieceGlueUpToItsCells) {
  std::uint64_t dice = 20'240'601;
  const auto roll = [&](std::size_t sides) {
    dice = dice * 6364136223846793005u + 1442695040888963407u;
    return static_cast<std::size_t>(dice >> 33) % sides;
  };
  int placed = 0;
  for (int round = 0; round < 60; ++round) {
    Cells cells = {{2, 0, 4}};
    while (std::ssize(cells) < 4 + round % 12) {
      const auto around = mitered().neighbors(cells[roll(cells.size())]);
      const Cell c = around[roll(around.size())];
      const auto at = std::lower_bound(cells.begin(), cells.end(), c);
      if (at == cells.end() || *at != c) cells.insert(at, c);
    }
    Design d;
    d.family = &mitered();
    d.pieces.push_back({"lump", 1, 0, cells, {}});
    const auto blocks = blocks_to_glue(d, 0);
    ASSERT_TRUE(blocks) << blocks.problem().say;
    const auto glued = glue_up_list(blocks.value());
    ASSERT_TRUE(glued) << glued.problem().say;
    EXPECT_EQ(glued.value().all, cells);
    for (std::size_t i = 1; i < blocks.value().size(); ++i) placed += !blocks.value()[i].on;
  }
  RecordProperty("placed by themselves", placed);
}

}  // namespace
}  // namespace stickwright
