// check and export as a user runs them: ends early, goes on, tells each assembly, writes key frames.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "cli/run.h"

namespace stickwright {
namespace {

using Json = nlohmann::json;
const std::string kExamples = STICKWRIGHT_SOURCE "/examples/";

// Twelve pentominoes and a board of 6 x 10 squares, one cube thick: none of them comes apart along the board alone, but
// lifted off it every piece does.
std::string pentominoes() {
  std::string text = "format = 1\nname = \"pentominoes\"\nfamily = \"notched\"\n[goal]\nbox = [6, 10, 1]\n";
  const char* const shapes[] = {"[0,1,0],[1,1,0],[1,0,0],[2,0,0],[1,2,0]", "[0,0,0],[1,0,0],[2,0,0],[3,0,0],[4,0,0]",
                                "[0,0,0],[1,0,0],[2,0,0],[3,0,0],[0,1,0]", "[1,0,0],[2,0,0],[3,0,0],[0,1,0],[1,1,0]",
                                "[0,0,0],[1,0,0],[0,1,0],[1,1,0],[0,2,0]", "[0,0,0],[1,0,0],[2,0,0],[1,1,0],[1,2,0]",
                                "[0,0,0],[2,0,0],[0,1,0],[1,1,0],[2,1,0]", "[0,0,0],[0,1,0],[0,2,0],[1,2,0],[2,2,0]",
                                "[0,0,0],[0,1,0],[1,1,0],[1,2,0],[2,2,0]", "[1,0,0],[0,1,0],[1,1,0],[2,1,0],[1,2,0]",
                                "[1,0,0],[0,1,0],[1,1,0],[2,1,0],[3,1,0]", "[0,0,0],[1,0,0],[1,1,0],[1,2,0],[2,2,0]"};
  int number = 0;
  for (const char* cells : shapes)
    text += "[[piece]]\nname = \"p" + std::to_string(++number) + "\"\ncells = [" + cells + "]\n";
  return text;
}

Json answer(const std::string& arguments, int exit_code) {
  const Ran r = run_program_with(arguments + " --json");
  EXPECT_EQ(r.exit_code, exit_code) << r.err;
  return Json::parse(r.out);
}

TEST(Check, EndsAfterAsManyAsAreAskedFor) {
  const Scratch scratch("check");
  const Json j = answer("check " + scratch.write("p.toml", pentominoes()) + " --stop-after 5", 0);
  EXPECT_EQ(j["assemblies"]["count"], 5);
  EXPECT_EQ(j["assemblies"]["complete"], false);
  EXPECT_EQ(j["assemblies"]["reachable"], 5);  // lifted off the board, piece by piece
  EXPECT_EQ(j["take_apart"]["moves_total"], 11);
}

TEST(Check, GoesOnFromABookmarkToTheWholeCount) {
  const Scratch scratch("bookmark");
  const std::string check = "check " + scratch.write("p.toml", pentominoes()) + " --bookmark " +
                            (scratch.path / "mark.json").string() + " --nodes ";
  std::int64_t count = 0;
  int runs = 0;
  for (bool complete = false; !complete && runs < 20; ++runs) {
    const Json j = answer(check + "80000", 0);
    complete = j["assemblies"]["complete"];
    EXPECT_GE(j["assemblies"]["count"], count);
    count = j["assemblies"]["count"];
  }
  EXPECT_GT(runs, 2);
  EXPECT_EQ(count, 2339);
}

TEST(Check, RefusesTheBookmarkOfAnotherSearch) {
  const Scratch scratch("foreign");
  const std::string mark = (scratch.path / "mark.json").string();
  const std::string design = scratch.write("p.toml", pentominoes());
  ASSERT_EQ(run_program_with("check " + design + " --nodes 50000 --bookmark " + mark).exit_code, 0);
  const std::string kept = slurp(mark);
  for (const std::string& other : {"check " + kExamples + "cells/star.toml", "check " + design + " --mirrors-once"}) {
    const Ran r = run_program_with(other + " --bookmark " + mark);
    EXPECT_EQ(r.exit_code, 2);
    EXPECT_NE(r.err.find("[wrong_bookmark]"), std::string::npos);
    EXPECT_EQ(slurp(mark), kept);
  }
  const Ran folder = run_program_with("check " + design + " --bookmark " + scratch.path.string());
  EXPECT_EQ(folder.exit_code, 2);
  EXPECT_NE(folder.err.find("[wrong_bookmark]"), std::string::npos);
  scratch.write("mark.json", "{ not a bookmark");
  EXPECT_EQ(run_program_with("check " + design + " --bookmark " + mark).exit_code, 2);
}

TEST(Check, TellsEachAssemblyOnALineOfItsOwn) {
  const Scratch scratch("each");
  const Ran r = run_program_with("check " + scratch.write("p.toml", pentominoes()) + " --stop-after 7 --each --json");
  std::istringstream lines(r.out);
  std::set<std::string> different;
  for (int k = 0; k < 7; ++k) {
    std::string line;
    std::getline(lines, line);
    const Json assembly = Json::parse(line);
    EXPECT_EQ(assembly.size(), 12u);
    std::set<Json> cells;
    for (const Json& piece : assembly) cells.insert(piece["cells"].begin(), piece["cells"].end());
    EXPECT_EQ(cells.size(), 60u);
    different.insert(line);
  }
  EXPECT_EQ(different.size(), 7u);
}

TEST(Check, BadOptionsAreToldWithExitCodeTwo) {
  for (const char* bad : {"--stop-after 0", "--threads 0", "--nodes many", "--backwards"})
    EXPECT_EQ(run_program_with("check " + kExamples + "cells/star.toml " + bad).exit_code, 2) << bad;
}

TEST(Check, SaysWhatTurningProves) {
  const Json j = answer("check " + kExamples + "cells/star.toml --turning", 0);
  EXPECT_EQ(j["turning"]["first_instant"], "moves");  // it comes apart by sliding alone
  EXPECT_EQ(answer("check " + kExamples + "cells/star.toml", 0).contains("turning"), false);
}

TEST(Export, KeyFramesFollowEachOther) {
  const Scratch scratch("frames");
  ASSERT_EQ(
      run_program_with("export " + kExamples + "cells/star.toml --steps --out " + scratch.path.string()).exit_code, 0);
  const Json j = Json::parse(slurp(scratch.path / "steps.json"));
  ASSERT_EQ(j["pieces"].size(), 6u);
  ASSERT_EQ(j["steps"].size(), 5u);
  for (const Json& shift : j["steps"][0]["before"]) EXPECT_EQ(shift, (Json{0, 0, 0}));
  for (std::size_t k = 1; k < 5; ++k) EXPECT_EQ(j["steps"][k]["before"], j["steps"][k - 1]["after"]);
  for (const Json& step : j["steps"]) EXPECT_NE(step["before"], step["after"]);
}

TEST(Export, SaysWhyThereIsNothingToWrite) {
  const Scratch scratch("locked");
  // A cube inside a hollow box.
  std::string shell;
  for (int x = 0; x < 3; ++x)
    for (int y = 0; y < 3; ++y)
      for (int z = 0; z < 3; ++z)
        if (x != 1 || y != 1 || z != 1)
          shell += (shell.empty() ? "[" : ",[") + std::to_string(x) + "," + std::to_string(y) + "," +
                   std::to_string(z) + "]";
  const std::string design = scratch.write(
      "d.toml",
      "format = 1\nname = \"shut in\"\nfamily = \"notched\"\n[[piece]]\nname = \"core\"\ncells = [[1,1,1]]\n"
      "[[piece]]\nname = \"shell\"\ncells = [" +
          shell + "]\n");
  const Ran r = run_program_with("export " + design + " --steps --out " + (scratch.path / "out").string());
  EXPECT_EQ(r.exit_code, 1);
  EXPECT_NE(r.err.find("shell, core stay together"), std::string::npos) << r.err;
  EXPECT_FALSE(std::filesystem::exists(scratch.path / "out"));
  const Json j = answer("check " + design, 1);
  EXPECT_EQ(j["take_apart"]["proof"], "certificate");
  EXPECT_EQ(j["take_apart"]["stuck"], (Json{"shell", "core"}));
}

}  // namespace
}  // namespace stickwright
