// The machine-readable answers, read back and held against the rules by plain code of the test's own.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "cli/run.h"

namespace stickwright {
namespace {

using Json = nlohmann::json;
const std::string kExamples = STICKWRIGHT_SOURCE "/examples/";

Json answer(const std::string& arguments, int exit_code = 0) {
  const Ran r = run_program_with(arguments + " --json");
  EXPECT_EQ(r.exit_code, exit_code) << r.err;
  return Json::parse(r.out);
}

TEST(CheckAnswer, StarHasOneAssemblyAndComesApartThreeAgainstThree) {
  for (const char* file : {"wrenfield/star.toml", "cells/star.toml"}) {
    const Json j = answer("check " + kExamples + file);
    EXPECT_EQ(j["assemblies"]["count"], 1);
    EXPECT_EQ(j["assemblies"]["complete"], true);
    EXPECT_EQ(j["assemblies"]["checked"], 1);
    EXPECT_EQ(j["assemblies"]["reachable"], 1);
    EXPECT_EQ(j["assemblies"]["stopped_at"], nullptr);
    EXPECT_EQ(j["take_apart"]["moves_to_first"], 1);
    EXPECT_EQ(j["take_apart"]["moves_total"], 5);
    EXPECT_EQ(j["take_apart"]["fewest"], true);
    EXPECT_EQ(j["take_apart"]["hands"], 2);
    EXPECT_EQ(j["take_apart"]["coordinated"], false);
    EXPECT_EQ(j["take_apart"]["proof"], nullptr);
    EXPECT_EQ(j["comes_apart"], true);
    ASSERT_EQ(j["steps"].size(), 5u);
    EXPECT_EQ(j["steps"][0]["moves"].size(), 3u);
    EXPECT_EQ(j["steps"][0]["distance"], "free");
    for (const Json& d : j["steps"][0]["direction"]) EXPECT_EQ(std::abs(d.get<int>()), 1);
    EXPECT_EQ(j["pieces"][0], (Json{{"name", "arm"}, {"copies", 6}, {"cells", 8}, {"handed", false}}));
  }
}

TEST(CheckAnswer, SecondDesignHasAtLeastEightPiecesAndWorks) {
  const Json j = answer("check " + kExamples + "wrenfield/second.toml");
  int pieces = 0;
  for (const Json& p : j["pieces"]) pieces += p["copies"].get<int>();
  EXPECT_GE(pieces, 8);
  EXPECT_EQ(j["comes_apart"], true);
  EXPECT_EQ(j["assemblies"]["complete"], true);
}

// Blocks as the answer gives them must fill each piece exactly, and each joint's area must be what the cells share.
TEST(BlocksAnswer, BlocksFillThePieceAndJointsAreWhatTheyShare) {
  for (const char* file : {"wrenfield/star.toml", "wrenfield/second.toml"}) {
    const Json j = answer("blocks " + kExamples + file);
    const Json check = answer("check " + kExamples + file);
    for (std::size_t i = 0; i < j["pieces"].size(); ++i) {
      const Json& piece = j["pieces"][i];
      std::map<std::array<int, 3>, int> block_at;
      int number = 0;
      for (const Json& b : piece["blocks"]) {
        EXPECT_EQ(b["at"].size(), b["cells"].get<std::size_t>());
        for (const Json& c : b["at"]) EXPECT_TRUE(block_at.emplace(c.get<std::array<int, 3>>(), number).second);
        ++number;
      }
      EXPECT_EQ(block_at.size(), check["pieces"][i]["cells"].get<std::size_t>());
      // Two cells share a face when they are mirror images in one of the planes x±y, y±z, z±x = 2k: centroids differ by
      // two of four times the coordinates along two axes.
      std::map<std::pair<int, int>, int> shared;
      for (const auto& [c, block] : block_at)
        for (const auto& [d, other] : block_at) {
          const int x = std::abs(c[0] - d[0]), y = std::abs(c[1] - d[1]), z = std::abs(c[2] - d[2]);
          if (block < other && x + y + z == 4 && std::max({x, y, z}) == 2) ++shared[{block, other}];
        }
      std::map<std::pair<int, int>, int> stated;
      for (const Json& joint : piece["joints"])
        stated[{joint["between"][0], joint["between"][1]}] =
            static_cast<int>(std::lround(joint["area_units"].get<double>() / std::sqrt(2.0)));
      EXPECT_EQ(shared, stated);
    }
    for (const Json& s : j["shapes"])
      EXPECT_NEAR(s["volume_units"].get<double>(), s["cells"].get<double>() * 2 / 3, 1e-12);
  }
}

TEST(SetupsAnswer, StacksAddUpToTheStopDistance) {
  const Json j = answer("setups " + kExamples + "wrenfield/batch.toml");
  ASSERT_FALSE(j["setups"].empty());
  for (const Json& s : j["setups"]) {
    const Json& stop = s["stop"];
    double sum = 0;
    for (const Json& size : stop["stack"]) sum += size.get<double>();
    ASSERT_EQ(stop["face"], "mitered");  // a square stop's stack fills what is left behind it instead
    EXPECT_NEAR(sum, stop["distance_mm"].get<double>() + stop["stack_error_mm"].get<double>(), 1e-9);
    // u = s / sqrt 2, and every stop of this batch stands two units off: sqrt 2 s.
    EXPECT_NEAR(stop["distance_mm"].get<double>(), std::sqrt(2.0) * j["stick_mm"].get<double>(), 1e-9);
    EXPECT_NEAR(s["test"]["across_flats_mm"].get<double>(), 16, 1e-9);
    EXPECT_NEAR(s["test"]["sensitivity_stop"].get<double>(), 1 / std::sqrt(2.0), 1e-6);
  }
}

TEST(SticksAnswer, EveryNeededBlockIsSawnFromAStickOfItsWood) {
  const Json sticks = answer("sticks " + kExamples + "wrenfield/batch.toml");
  const Json setups = answer("setups " + kExamples + "wrenfield/batch.toml");
  std::map<std::string, int> needed, sawn;
  std::map<std::string, double> length;
  for (const Json& s : setups["setups"]) {
    const std::string name =
        s["shape"].get<std::string>() + (s["hand"].is_null() ? "" : ", " + s["hand"].get<std::string>());
    for (const char* kind : {"needed", "spares"})
      for (const auto& [wood, count] : s[kind].items()) needed[wood + "/" + name] += count.get<int>();
    length[name] = s["stick_per_block_mm"];
  }
  int used = 0;
  for (const Json& stick : sticks["sticks"]) {
    ++used;
    double total = 0;
    for (const Json& b : stick["blocks"]) {
      if (b["test"].get<bool>()) continue;
      const std::string name =
          b["shape"].get<std::string>() + (b["hand"].is_null() ? "" : ", " + b["hand"].get<std::string>());
      ++sawn[stick["wood"].get<std::string>() + "/" + name];
      total += length[name];
    }
    EXPECT_LT(total, stick["length_mm"].get<double>());
  }
  EXPECT_EQ(needed, sawn);
  EXPECT_EQ(sticks["used"], used);
  EXPECT_LE(sticks["bound"].get<int>(), used);
}

}  // namespace
}  // namespace stickwright
