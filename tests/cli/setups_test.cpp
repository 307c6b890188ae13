// Budgets and shim tables of set-ups, and what earlier batches teach.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/run.h"
#include "support/small_batch.h"

namespace stickwright {
namespace {

using Json = nlohmann::json;

struct Bench {
  Scratch s{"setups"};
  std::string batch = small_batch(s);
  Json setups() const {
    const Ran r = run_program_with("setups " + batch + " --json");
    EXPECT_EQ(r.exit_code, 0) << r.err;
    return Json::parse(r.out)["setups"];
  }
  std::string source_of(const char* line) const {
    const Json all = setups();
    for (const Json& l : all[0]["budget"]["lines"])
      if (l["name"] == line) return l["source"];
    return "no such line";
  }
};

TEST(SetUps, EachHasABudgetThatAddsUp) {
  const Bench b;
  for (const Json& set_up : b.setups()) {
    EXPECT_EQ(set_up["budget"], set_up["tests"][0]["budget"]);
    for (const Json& test : set_up["tests"]) {
      const Json& budget = test["budget"];
      double square = 0, share = 0;
      for (const Json& line : budget["lines"]) {
        EXPECT_FALSE(line["source"].get<std::string>().empty()) << line;
        EXPECT_NEAR(line["contribution_mm"].get<double>(),
                    std::abs(line["sensitivity"].get<double>() * line["u"].get<double>()), 1e-12);
        square += std::pow(line["contribution_mm"].get<double>(), 2);
        share += line["share"].get<double>();
      }
      // JCGM 100:2008, 5.1.2 (10): independent inputs add in squares.
      EXPECT_NEAR(budget["u_mm"].get<double>(), std::sqrt(square), 1e-12);
      EXPECT_NEAR(share, 1, 1e-9);
      // What is expected is the mean: of drawn saws, where the model bends.
      EXPECT_EQ(test["expected_mm"], budget["bends"].get<bool>() ? budget["sampled"]["value_mm"] : budget["value_mm"]);
      EXPECT_NEAR(budget["expanded_mm"].get<double>(), budget["k"].get<double>() * budget["u_mm"].get<double>(), 1e-12);
      EXPECT_EQ(budget["sampled"].is_null(), !budget["bends"].get<bool>());
    }
  }
}

// Rows follow each other and add up.
void expect_orderly(const Json& table) {
  double before = 0;
  for (const Json& row : table) {
    EXPECT_LE(row["from_mm"], row["to_mm"]);
    EXPECT_GT(row["from_mm"], before);
    before = row["to_mm"];
    double total = 0;
    for (const Json& leaf : row["leaves"]) total += leaf.get<double>();
    EXPECT_NEAR(row["leaves_total_mm"].get<double>(), total, 1e-12);
  }
}

// By turns the first and the last reading of a row, at a mitered and at a square stop.
TEST(SetUps, TheShimTableSaysWhatCorrectSays) {
  const Bench b;
  const Json all = b.setups();
  for (const Json& set_up : all) EXPECT_EQ(set_up["shim_table"], set_up["tests"][0]["shim_table"]);
  for (std::size_t stop = 0; stop < 2; ++stop) {
    const Json& table = all[1]["tests"][stop]["shim_table"];
    expect_orderly(table);
    for (std::size_t k = 0; k < table.size(); ++k) {
      const Json reading = table[k][k % 2 == 0 ? "from_mm" : "to_mm"];
      const Ran r = run_program_with("correct " + b.batch + " --json --setup 2 --stop " + std::to_string(stop + 1) +
                                     " --measured " + reading.dump());
      ASSERT_EQ(r.exit_code, 0) << r.err;
      const Json c = Json::parse(r.out);
      EXPECT_EQ(c["advice"], table[k]["advice"]) << stop << " " << reading;
      EXPECT_EQ(c["leaves"], table[k]["leaves"]) << stop << " " << reading;
    }
  }
}

TEST(SetUps, TheTextHasTheBudgetTheBendAndTheTable) {
  const Bench b;
  const Ran r = run_program_with("setups " + b.batch);
  const Json all = b.setups();
  EXPECT_NE(r.out.find(all[0]["budget"]["says"].get<std::string>()), std::string::npos) << r.out;
  const Json& table = all[0]["shim_table"];
  for (const Json& row : table) {
    char cell[64];
    std::snprintf(cell, sizeof cell, "%.3f to %.3f: ", row["from_mm"].get<double>(), row["to_mm"].get<double>());
    EXPECT_NE(r.out.find(cell), std::string::npos) << cell;
  }
  // The squat octahedron lies with a whole face against its stop: there the model bends.
  EXPECT_EQ(all[1]["budget"]["bends"], true);
  EXPECT_NE(r.out.find("do not move the size evenly to both sides"), std::string::npos) << r.out;
}

// Nine readings that alternate between two sizes 0.02 mm apart: moving ranges of 0.02 mm, sigma 0.02 / 1.128.
TEST(SetUps, ReadingsTeachHowMuchOneBlockDiffersFromTheNext) {
  const Bench b;
  const std::string before = b.source_of("seating at cut 1");
  EXPECT_EQ(before, "shop file, [known]");
  ASSERT_EQ(run_program_with("record " + b.batch + " --setup 1 16.01 15.99 16.01 15.99 16.01 15.99 16.01 15.99 16.01")
                .exit_code,
            0);
  EXPECT_EQ(b.source_of("seating at cut 1"), "ledger, 8 differences between readings");
  const Json all = b.setups();
  for (const Json& line : all[0]["budget"]["lines"])
    if (line["name"] == "seating at cut 1") {
      // Less what the micrometer does by itself (step 0.001 mm, repeat 0.004 mm), and sqrt 2 from across flats to axis.
      const double across = 0.02 / 1.128, caliper = std::hypot(0.001 / std::sqrt(12.0), 0.004);
      EXPECT_NEAR(line["u"].get<double>(), std::sqrt(2 * (across * across - caliper * caliper)), 1e-6);
    }
}

// Seven differences are too few to tell.
TEST(SetUps, EightReadingsTeachNothingYet) {
  const Bench b;
  ASSERT_EQ(
      run_program_with("record " + b.batch + " --setup 1 16.01 15.99 16.01 15.99 16.01 15.99 16.01 15.99").exit_code,
      0);
  EXPECT_EQ(b.source_of("seating at cut 1"), "shop file, [known]");
}

std::string with_learn_from(const Bench& b, const std::string& list) {
  std::string text = slurp(b.batch);
  return b.s.write("next.toml", text.replace(text.find("stick ="), 0, "learn_from = " + list + "\n"));
}

TEST(SetUps, ALaterBatchLearnsFromTheLedgerOfAnEarlierOne) {
  const Bench b;
  ASSERT_EQ(run_program_with("align " + b.batch + " --gap '0.05 mm' --over '60 mm' --keep").exit_code, 0);
  const std::string next = with_learn_from(b, "[\"batch.toml\"]");
  const Ran r = run_program_with("setups " + next + " --json");
  ASSERT_EQ(r.exit_code, 0) << r.err;
  const Json later = Json::parse(r.out)["setups"], here = b.setups();
  EXPECT_EQ(later[0]["budget"], here[0]["budget"]);
  EXPECT_NE(later[0]["budget"].dump().find("ledger, truing of"), std::string::npos);
  EXPECT_FALSE(std::filesystem::exists(b.s.path / "next.ledger"));
}

TEST(SetUps, AnEarlierBatchWithoutALedgerTeachesNothing) {
  const Bench b;
  const Ran r = run_program_with("setups " + with_learn_from(b, "[\"batch.toml\"]") + " --json");
  ASSERT_EQ(r.exit_code, 0) << r.err;
  EXPECT_EQ(Json::parse(r.out)["setups"], b.setups());
  EXPECT_FALSE(std::filesystem::exists(b.s.path / "batch.ledger"));
}

TEST(SetUps, LearnFromAFileThatIsNotThereIsToldAtItsPlace) {
  const Bench b;
  const Ran r = run_program_with("setups " + with_learn_from(b, "[\"batch.toml\", \"autumn.toml\"]"));
  EXPECT_EQ(r.exit_code, 2);
  EXPECT_TRUE(r.out.empty());
  EXPECT_NE(r.err.find("next.toml:4:29: learn_from: there is no file "), std::string::npos) << r.err;
  EXPECT_NE(r.err.find("autumn.toml"), std::string::npos) << r.err;
  EXPECT_NE(r.err.find("^"), std::string::npos) << r.err;
}

TEST(SetUps, LearnFromALedgerThatIsNoneIsRefused) {
  const Bench b;
  b.s.write("batch.ledger", "shopping list\n");
  const Ran r = run_program_with("setups " + with_learn_from(b, "[\"batch.toml\"]"));
  EXPECT_EQ(r.exit_code, 2) << r.err;
  EXPECT_NE(r.err.find("batch.ledger"), std::string::npos) << r.err;
  EXPECT_EQ(slurp(b.s.path / "batch.ledger"), "shopping list\n");
}

// The keys of the only stop stand at the head of the history as well.
TEST(SetUps, HistoryOfOneStopHasItsKeysAtTheHead) {
  const Bench b;
  ASSERT_EQ(run_program_with("record " + b.batch + " --setup 1 16.00 16.02").exit_code, 0);
  const auto history = [&](const std::string& arguments) {
    return Json::parse(run_program_with("history " + b.batch + " --json " + arguments).out);
  };
  const Json one = history("");
  ASSERT_EQ(one["stops"].size(), 1u);
  for (const auto& [key, value] : one["stops"][0].items()) EXPECT_EQ(one[key], value) << key;
  for (const char* key : {"readings", "mean", "sd", "limits", "signals", "capability"})
    EXPECT_TRUE(one.contains(key)) << key;
  ASSERT_EQ(run_program_with("record " + b.batch + " --setup 2 16.00 16.02").exit_code, 0);
  EXPECT_FALSE(history("").contains("mean"));
  EXPECT_EQ(history("--setup 2")["setup"], "squat-octahedron");
}

}  // namespace
}  // namespace stickwright
