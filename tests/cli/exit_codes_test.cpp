// How a run ends, and what is left behind when it ends badly.
#include <gtest/gtest.h>

#include <ostream>

#include "cli/run.h"

namespace stickwright {
namespace {

const std::string kExamples = STICKWRIGHT_SOURCE "/examples/";
const std::string kHead = "format = 1\nname = \"d\"\nfamily = \"mitered\"\n";

TEST(ExitCodes, DoneIsZero) {
  EXPECT_EQ(run_program_with("check " + kExamples + "wrenfield/star.toml").exit_code, 0);
  EXPECT_EQ(run_program_with("--help").exit_code, 0);
  EXPECT_EQ(run_program_with("--version").exit_code, 0);
}

// A left-handed prism cannot fill a right-handed hole.
TEST(ExitCodes, ADesignThatDoesNotAssembleIsOne) {
  const Scratch s("no");
  const auto file = s.write("d.toml", kHead +
                                          "[goal]\ncells = [[4, 0, -2], [4, 2, 0], [6, 0, -4]]\n[[piece]]\nname = "
                                          "\"p\"\ncells = [[-4, 0, -2], [-4, 2, 0], [-6, 0, -4]]\n");
  const Ran r = run_program_with("check " + file);
  EXPECT_EQ(r.exit_code, 1) << r.err;
  EXPECT_NE(r.out.find("does not go together"), std::string::npos) << r.out;
}

TEST(ExitCodes, BadInputIsTwoWithPlaceAndCaret) {
  const Scratch s("bad");
  const auto file = s.write("d.toml", kHead + "[[piece]]\nname = \"p\"\ncells = [[4, 2, 1]]\n");
  const Ran r = run_program_with("check " + file);
  EXPECT_EQ(r.exit_code, 2);
  EXPECT_TRUE(r.out.empty());
  EXPECT_NE(r.err.find("d.toml:6:10: "), std::string::npos) << r.err;
  EXPECT_NE(r.err.find("[not_a_cell]"), std::string::npos);
  EXPECT_NE(r.err.find("^"), std::string::npos);
}

TEST(ExitCodes, MistakesOnTheCommandLineAreTwo) {
  const Ran verb = run_program_with("chek file.toml");
  EXPECT_EQ(verb.exit_code, 2);
  EXPECT_NE(verb.err.find("did you mean \"check\""), std::string::npos) << verb.err;
  EXPECT_EQ(run_program_with("").exit_code, 2);
  EXPECT_EQ(run_program_with("check").exit_code, 2);
  EXPECT_EQ(run_program_with("check a.toml --nonsense").exit_code, 2);
  EXPECT_EQ(run_program_with("check no/such/file.toml").exit_code, 2);
}

struct BatchMistake {
  const char* name;
  const char* from;  // text in batch.toml or shop.toml
  const char* to;
  const char* code;
  int exit_code;
};
void PrintTo(const BatchMistake& m, std::ostream* out) {
  *out << m.name;
}

class BadBatch : public testing::TestWithParam<BatchMistake> {};

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

// The example with one mistake in it: told at its place, and nothing is written.
TEST_P(BadBatch, IsToldAtItsPlaceAndNothingIsWritten) {
  const Scratch s(std::string("batch_") + GetParam().name);
  std::string all, changed;
  for (const char* file : {"batch.toml", "shop.toml", "star.toml", "second.toml"}) {
    const std::string text = slurp(kExamples + "wrenfield/" + file);
    const std::string with = replaced(text, GetParam().from, GetParam().to);
    if (with != text && changed.empty()) changed = file;
    s.write(file, changed == file ? with : text);
  }
  ASSERT_FALSE(changed.empty()) << "the example no longer holds: " << GetParam().from;
  const auto out = s.path / "out";
  const Ran r = run_program_with("plan " + (s.path / "batch.toml").string() + " --out " + out.string());
  EXPECT_EQ(r.exit_code, GetParam().exit_code) << r.err;
  EXPECT_NE(r.err.find(std::string("[") + GetParam().code + "]"), std::string::npos) << r.err;
  EXPECT_NE(r.err.find(".toml:"), std::string::npos) << r.err;
  EXPECT_FALSE(std::filesystem::exists(out));
}

const BatchMistake kBatchMistakes[] = {
    {"WoodOfAPieceThatIsNotThere", "woods = { arm =", "woods = { \"*\" = \"walnut\", amr =", "unknown_piece", 2},
    {"TooFewWoods", "[\"black cherry\", \"black cherry\",", "[\"black cherry\",", "wrong_count", 2},
    {"UnknownWood", "\"walnut\"]", "\"wallnut\"]", "unknown_wood", 2},
    {"BlockThatIsNotInThePiece", "woods = { \"*\"",
     "block_woods = { wing = { \"center block\" = \"walnut\" } }\nwoods = { \"*\"", "unknown_block", 2},
    {"DesignNotThere", "design = \"star.toml\"", "design = \"stars.toml\"", "no_file", 2},
    {"DesignThatDoesNotAssemble", "face = \"+x-z\", turn = 1", "face = \"+x-z\", turn = 2", "does_not_work", 1},
    {"StickTooThin", "stick = \"16 mm\"", "stick = \"8 mm\"", "no_program", 2},
    {"UnknownGaugeSet", "set = \"mm 47 (b)\"", "set = \"mm 48\"", "unknown_gauge_set", 2},
    {"UnknownGrade", "grade = \"2\"", "grade = \"9\"", "unknown_grade", 2},
    {"GaugeBlockMissingThatTheSetNeverHad", "missing = [\"1.07 mm\"]", "missing = [\"1.075 mm\"]", "no_such_block", 2},
    {"NoStackForTheStop", "within = \"3 um\"", "within = \"0 mm\"", "no_stack", 2},
    {"BlankTooShortForAMiteredStop", "mitered_blank = \"175 mm\"", "mitered_blank = \"150 mm\"", "blank_too_short", 2},
    {"StopsTooFarFromTheBlade", "closest_stop = \"10 mm\"", "closest_stop = \"60 mm\"", "no_program", 2},
    {"NotchedDesign", "family = \"mitered\"\n\n[goal]\nsolid = \"first",
     "family = \"notched\"\n\n[goal]\nsolid = \"first", "unknown_key", 2},
    {"NegativeKerf", "kerf = \"2.61 mm\"", "kerf = \"-2.61 mm\"", "out_of_range", 2},
    {"KerfInKilograms", "kerf = \"2.61 mm\"", "kerf = \"2.61 kg\"", "bad_length", 2},
    {"KeyMisspelt", "teeth = 80", "teth = 80", "unknown_key", 2},
    {"RackWithoutTheWood", "wood = \"walnut\"", "wood = \"teak\"", "no_sticks", 2},
    {"SticksTooShortForOneBlock", "length = \"750 mm\"", "length = \"130 mm\"", "stick_too_short", 2},
    {"RackWithTooFewSticks", "length = \"750 mm\"\ncount = 20", "length = \"750 mm\"\ncount = 1", "not_enough_sticks",
     1},
    {"DateThatDoesNotExist", "start = 2031-01-28", "start = 2031-02-30", "bad_toml", 2},
};

INSTANTIATE_TEST_SUITE_P(Batches, BadBatch, testing::ValuesIn(kBatchMistakes),
                         [](const auto& param_info) { return std::string(param_info.param.name); });

}  // namespace
}  // namespace stickwright
