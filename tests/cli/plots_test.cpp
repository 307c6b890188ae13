#include <gtest/gtest.h>

#include <set>

#include "cli/run.h"
#include "support/small_batch.h"

namespace stickwright {
namespace {

const std::string kBatch = STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml";

TEST(SetupsPlots, WritesAPairOfFilesForEachStopAndNamesThem) {
  const Scratch scratch("plots");
  const std::string folder = (scratch.path / "new" / "plots").string();
  const Ran r = run_program_with("setups " + kBatch + " --plots " + folder);
  EXPECT_EQ(r.exit_code, 0) << r.err;
  std::set<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    names.insert(entry.path().filename().string());
    EXPECT_NE(r.out.find("Written: " + entry.path().string()), std::string::npos);
  }
  const std::set<std::string> wanted = {
      "prism-block-right-handed-stop-1-budget.pdf", "prism-block-right-handed-stop-1-budget.svg",
      "rhombic-pyramid-block-stop-1-budget.pdf",    "rhombic-pyramid-block-stop-1-budget.svg",
      "squat-octahedron-stop-1-budget.pdf",         "squat-octahedron-stop-1-budget.svg",
      "squat-octahedron-stop-2-budget.pdf",         "squat-octahedron-stop-2-budget.svg"};
  EXPECT_EQ(names, wanted);
  EXPECT_TRUE(slurp(folder + "/squat-octahedron-stop-2-budget.pdf").starts_with("%PDF-"));
}

TEST(SetupsPlots, AreTheSameFilesOnEveryRun) {
  const Scratch scratch("plots_twice");
  for (const char* folder : {"a", "b"})
    EXPECT_EQ(run_program_with("setups " + kBatch + " --plots " + (scratch.path / folder).string()).exit_code, 0);
  for (const auto& entry : std::filesystem::directory_iterator(scratch.path / "a"))
    EXPECT_EQ(slurp(entry.path()), slurp(scratch.path / "b" / entry.path().filename())) << entry.path();
}

TEST(SetupsPlots, AFolderThatCannotBeWrittenIsTold) {
  const Scratch scratch("plots_blocked");
  scratch.write("file", "in the way");
  const Ran r = run_program_with("setups " + kBatch + " --plots " + (scratch.path / "file").string());
  EXPECT_NE(r.exit_code, 0);
  EXPECT_NE(r.err.find("cannot_write"), std::string::npos) << r.err;
  EXPECT_EQ(r.out, "");
}

// The small batch has no customer, so there is no year to draw.
TEST(FitPlots, WritesAPairOfFilesForEachPictureAndNamesThem) {
  const Scratch scratch("fit_plots");
  const std::string folder = (scratch.path / "plots").string();
  const Ran r = run_program_with("fit " + small_batch(scratch) + " --plots " + folder);
  EXPECT_EQ(r.exit_code, 0) << r.err;
  std::set<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    names.insert(entry.path().filename().string());
    EXPECT_NE(r.out.find("Written: " + entry.path().string()), std::string::npos);
  }
  const std::set<std::string> wanted = {"six-piece-star-play.pdf", "six-piece-star-play.svg",
                                        "six-piece-star-sources.pdf", "six-piece-star-sources.svg"};
  EXPECT_EQ(names, wanted);
}

TEST(FitPlots, AFolderThatCannotBeWrittenIsTold) {
  const Scratch scratch("fit_plots_blocked");
  scratch.write("file", "in the way");
  const Ran r = run_program_with("fit " + small_batch(scratch) + " --plots " + (scratch.path / "file").string());
  EXPECT_NE(r.exit_code, 0);
  EXPECT_NE(r.err.find("cannot_write"), std::string::npos) << r.err;
  EXPECT_EQ(r.out, "");
}

}  // namespace
}  // namespace stickwright
