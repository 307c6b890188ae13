// Truing from light gaps and from a file of readings: what is answered, what is kept, what is refused.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <ostream>

#include "cli/run.h"
#include "support/small_batch.h"

namespace stickwright {
namespace {

using Json = nlohmann::json;

constexpr double kDegree = std::numbers::pi / 180;
const std::string kTruingFile = STICKWRIGHT_SOURCE "/examples/wrenfield/truing.toml";
const std::string kPoint = "format = 1\n[[reading]]\nof = \"point\"\ngap = \"0.05 mm\"\nlight = \"tip\"\n";

struct Bench {
  Scratch s{"align"};
  std::string batch = small_batch(s);
  std::filesystem::path ledger = s.path / "batch.ledger";
  Ran align(const std::string& arguments) const { return run_program_with("align " + batch + " " + arguments); }
  Json json(const std::string& arguments) const {
    const Ran r = align(arguments + " --json");
    EXPECT_EQ(r.exit_code, 0) << r.err;
    return Json::parse(r.out);
  }
  Json readings(const std::string& text) const { return json("--readings " + s.write("r.toml", text)); }
  Json set_ups() const { return Json::parse(run_program_with("setups " + batch + " --json").out); }
};

// Two miters that face each other are both off by the error: the gap opens by twice the error times the arm.
TEST(AlignVerb, AGapOfTwoMitersIsTwiceTheErrorTimesTheArm) {
  const Bench b;
  const Json j = b.json("--gap '0.05 mm' --over '60 mm'");
  EXPECT_NEAR(j["miter_error_deg"], 0.05 / (2 * 60) / kDegree, 1e-6);
  EXPECT_EQ(j["advice"], "leaf");
  EXPECT_EQ(j["leaf_mm"], 0.05);
  EXPECT_EQ(j["at"], "between the cradle and its fence, at the far screw");
  // The shop's lever arm is 160 mm: a leaf turns the cradle by its thickness over that.
  EXPECT_NEAR(j["remaining_deg"], 0.05 / 120 / kDegree - 0.05 / 160 / kDegree, 1e-6);
}

// The eye's half width of 0.005 mm and the square's 20 arcsec, each evenly spread, over twice the arm.
TEST(AlignVerb, SaysHowWellTheMiterIsKnown) {
  const Bench b;
  const double eye = 0.005 / std::sqrt(3.0) / 60, square = 20.0 / 3600 * kDegree / std::sqrt(3.0);
  EXPECT_NEAR(b.json("--gap '0.05 mm' --over '60 mm'")["u_deg"], std::hypot(eye, square) / 2 / kDegree, 2e-6);
  const double own = 0.02 / 60;
  EXPECT_NEAR(b.json("--gap '0.05 mm' --over '60 mm' --u '0.02 mm'")["u_deg"], std::hypot(own, square) / 2 / kDegree,
              5e-5);
}

TEST(AlignVerb, LightAtTheEndsMeansAPointTooSharpAndTheLeafGoesToTheOtherSide) {
  const Bench b;
  const Json tip = b.json("--gap '0.05 mm' --over '60 mm'"),
             ends = b.json("--gap '0.05 mm' --over '60 mm' --light ends");
  EXPECT_LT(ends["miter_error_deg"], 0.0);
  EXPECT_NEAR(ends["miter_error_deg"].get<double>(), -tip["miter_error_deg"].get<double>(), 1e-5);
  EXPECT_EQ(ends["leaf_mm"], tip["leaf_mm"]);
  EXPECT_EQ(ends["at"], "on the other side from \"" + tip["at"].get<std::string>() + "\"");
}

TEST(AlignVerb, TheSameGapOnTwiceTheArmIsHalfTheError) {
  const Bench b;
  const double near = b.json("--gap '0.05 mm' --over '60 mm'")["miter_error_deg"];
  const double far = b.json("--gap '0.05 mm' --over '120 mm'")["miter_error_deg"];
  EXPECT_NEAR(far, near / 2, 1e-5);
}

TEST(AlignVerb, InchesAndMillimetersAgree) {
  const Bench b;
  const double mm = b.json("--gap '0.0508 mm' --over '63.5 mm'")["miter_error_deg"];
  EXPECT_NEAR(b.json("--gap '0.002 in' --over '2 1/2 in'")["miter_error_deg"].get<double>(), mm, 1e-12);
}

TEST(AlignVerb, TwoGapsAreKnownBetterThanOne) {
  const Bench b;
  const Json one = b.json("--gap '0.05 mm' --over '60 mm'"),
             two = b.json("--gap '0.05 mm' --gap '0.05 mm' --over '60 mm'");
  EXPECT_LT(two["u_deg"], one["u_deg"]);
}

TEST(AlignVerb, AGapThatIsNothingIsLeftAlone) {
  const Bench b;
  const Json j = b.json("--gap '0 mm' --over '60 mm'");
  EXPECT_EQ(j["advice"], "leave");
  EXPECT_EQ(j["leaf_mm"], 0);
  EXPECT_TRUE(j["leaves_mm"].empty());
  EXPECT_EQ(j["remaining_deg"], j["miter_error_deg"]);
}

TEST(AlignVerb, EveryDocumentedKeyIsThere) {
  const Bench b;
  const Json j = b.json("--gap '0.05 mm' --over '60 mm'");
  for (const char* key :
       {"miter_error_deg", "u_deg", "leaf_mm", "leaves_mm", "at", "remaining_deg", "advice", "says", "errors",
        "cannot_tell_apart", "next", "contradict", "chi_square", "freedom", "covariance", "residuals"})
    EXPECT_TRUE(j.contains(key)) << key;
  ASSERT_EQ(j["errors"].size(), 4u);
  for (const Json& e : j["errors"])
    for (const char* key :
         {"error", "seen", "deg", "u_deg", "advice", "leaf_mm", "leaves_mm", "at", "remaining_deg", "repeats", "says"})
      EXPECT_TRUE(e.contains(key)) << key;
  EXPECT_EQ(j["errors"][1]["error"], "tilt");
  EXPECT_EQ(j["errors"][1]["seen"], false);
  EXPECT_TRUE(j["errors"][1]["deg"].is_null());
  EXPECT_EQ(j["errors"][1]["advice"], "unseen");
  EXPECT_EQ(j["cannot_tell_apart"], Json({"tilt", "roll", "pitch"}));
}

// One length of the truing block: the miter and the block's own length make up for each other.
TEST(AlignVerb, SaysWhatMakesUpForWhatInDegreesAndMillimeters) {
  const Bench b;
  const Json j = b.readings("format = 1\n[[reading]]\nof = \"corner\"\nat = \"near\"\nlength = \"67.9 mm\"\n");
  EXPECT_TRUE(j["miter_error_deg"].is_null());
  EXPECT_EQ(j["advice"], "unseen");
  const std::string last = j["cannot_tell_apart"].back();
  EXPECT_NE(last.find("miter"), std::string::npos) << last;
  EXPECT_NE(last.find("0.01 degrees and length of the truing block"), std::string::npos) << last;
  EXPECT_EQ(last.find(" rad"), std::string::npos) << last;
}

// By hand: 0.03 mm over 60 mm, 0.04 mm over 100 mm, 0.02 mm over 30 mm; the truing block confirms them. The blade's
// square is 20 arcsec (0.0032 degrees, 1 sigma) off, the indicator 0.004 mm over 30 mm (0.0078 degrees).
TEST(AlignVerb, TheExampleFileShowsAllFourErrors) {
  const Bench b;
  const Json j = b.json("--readings " + kTruingFile);
  const double by_hand[] = {0.05 / 120 / kDegree, 0.03 / 60 / kDegree, -0.02 / 30 / kDegree, 0.04 / 100 / kDegree};
  for (std::size_t e = 0; e < 4; ++e) {
    EXPECT_EQ(j["errors"][e]["seen"], true);
    EXPECT_NEAR(j["errors"][e]["deg"].get<double>(), by_hand[e], 0.01) << e;
  }
  EXPECT_EQ(j["contradict"], false);
  EXPECT_TRUE(j["cannot_tell_apart"].empty());
}

TEST(AlignVerb, WordsComeBeforeNumbers) {
  const Bench b;
  const Ran r = b.align("--gap '0.05 mm' --over '60 mm'");
  EXPECT_EQ(r.out.find("Miter: two opposite miters make a point that is too wide. Put a leaf of 0.05 mm between"), 0u)
      << r.out;
  EXPECT_NE(r.out.find("These readings do not tell: tilt, roll, pitch.\n"), std::string::npos) << r.out;
  EXPECT_EQ(r.out.find(" rad"), std::string::npos) << r.out;
}

TEST(AlignVerb, KeptIsWhatIsLeftWithTheLeafAndThePlansUseIt) {
  const Bench b;
  const auto miter = [&]() -> Json {
    const Json all = b.set_ups();
    for (const Json& line : all["setups"][0]["budget"]["lines"])
      if (line["name"] == "miter") return line;
    return nullptr;
  };
  EXPECT_EQ(miter()["source"], "shop file, [known]");
  const Json j = b.json("--gap '0.05 mm' --over '60 mm' --keep --by Kim");
  const Json kept = miter();
  EXPECT_NE(kept["source"].get<std::string>().find("ledger, truing of "), std::string::npos) << kept;
  EXPECT_NEAR(kept["value"], j["remaining_deg"].get<double>() * kDegree, 1e-12);
  // The leaf: 5 um to either side, evenly, over the lever arm of 160 mm.
  EXPECT_NEAR(kept["u"], std::hypot(j["u_deg"].get<double>() * kDegree, 0.005 / std::sqrt(3.0) / 160), 1e-8);
}

// One gap says that the point is too wide by 0.05 mm, the other that it is too sharp by as much.
TEST(AlignVerb, ReadingsThatContradictEachOtherAreSaidAndNotKept) {
  const Bench b;
  const auto file = b.s.write("r.toml", kPoint +
                                            "over = \"60 mm\"\n[[reading]]\nof = \"point\"\ngap = \"0.05 mm\"\n"
                                            "light = \"ends\"\nover = \"60 mm\"\n");
  EXPECT_EQ(b.json("--readings " + file)["contradict"], true);
  EXPECT_EQ(b.align("--readings " + file).out.find("The readings contradict each other"), 0u);
  const Ran r = b.align("--readings " + file + " --keep");
  EXPECT_EQ(r.exit_code, 2);
  EXPECT_TRUE(r.out.empty());
  EXPECT_NE(r.err.find("[readings_contradict]"), std::string::npos) << r.err;
  EXPECT_FALSE(std::filesystem::exists(b.ledger));
}

struct Mistake {
  const char* name;
  const char* arguments;
  const char* says;
};
void PrintTo(const Mistake& m, std::ostream* out) {
  *out << m.name;
}

class BadAlign : public testing::TestWithParam<Mistake> {};

TEST_P(BadAlign, IsOneMessageAndNothingIsKept) {
  const Bench b;
  const Ran r = b.align(std::string(GetParam().arguments) + " --keep");
  EXPECT_EQ(r.exit_code, 2) << r.out;
  EXPECT_TRUE(r.out.empty()) << r.out;
  EXPECT_NE(r.err.find(GetParam().says), std::string::npos) << r.err;
  EXPECT_FALSE(std::filesystem::exists(b.ledger));
}

const Mistake kMistakes[] = {
    {"Nothing", "", "nothing was read"},
    {"GapWithoutOver", "--gap '0.05 mm'", "--over: say at which length of arm"},
    {"OverWithoutGap", "--over '60 mm'", "nothing was read"},
    {"GapWithoutUnit", "--gap 0.05 --over '60 mm'", "found \"0.05\" [bad_option]"},
    {"NoNumber", "--gap nan --over '60 mm'", "found \"nan\" [bad_option]"},
    {"Empty", "--gap '' --over '60 mm'", "found \"\" [bad_option]"},
    {"Negative", "--gap=-0.05mm --over '60 mm'", "--gap: "},
    {"Huge", "--gap '6 mm' --over '60 mm'", "--gap: expected 0 to 5 mm"},
    {"ArmTooShort", "--gap '0.05 mm' --over '1 mm'", "--over: expected 5 to 1000 mm"},
    {"NoUncertainty", "--gap '0.05 mm' --over '60 mm' --u '0 mm'", "--u: expected 0.0001 to 1 mm"},
    {"LightElsewhere", "--gap '0.05 mm' --over '60 mm' --light up", "--light: expected tip or ends"},
    {"NoSuchFile", "--readings no/such.toml", "no/such.toml: there is no such file"},
    {"AFolder", "--readings .", "this is a folder"},
};
INSTANTIATE_TEST_SUITE_P(Align, BadAlign, testing::ValuesIn(kMistakes),
                         [](const auto& param_info) { return std::string(param_info.param.name); });

struct FileMistake {
  const char* name;
  const char* line;   // after the five lines of kPoint
  const char* place;  // line and column
  const char* code;
};
void PrintTo(const FileMistake& m, std::ostream* out) {
  *out << m.name;
}

class BadTruingFile : public testing::TestWithParam<FileMistake> {};

TEST_P(BadTruingFile, IsToldAtItsPlaceWithACaret) {
  const Bench b;
  const Ran r = b.align("--readings " + b.s.write("r.toml", kPoint + GetParam().line) + " --keep");
  EXPECT_EQ(r.exit_code, 2);
  EXPECT_TRUE(r.out.empty());
  EXPECT_NE(r.err.find(std::string("r.toml:") + GetParam().place + ": "), std::string::npos) << r.err;
  EXPECT_NE(r.err.find(std::string("[") + GetParam().code + "]"), std::string::npos) << r.err;
  EXPECT_NE(r.err.find("^"), std::string::npos) << r.err;
  EXPECT_FALSE(std::filesystem::exists(b.ledger));
}

const FileMistake kFileMistakes[] = {
    {"MissingOver", "", "2:1", "missing_key"},
    {"UnknownKey", "over = \"60 mm\"\nlite = \"tip\"\n", "7:1", "unknown_key"},
    {"WrongUnit", "over = \"60 kg\"\n", "6:8", "bad_length"},
    {"NoSuchLook", "over = \"60 mm\"\n[[reading]]\nof = \"fence\"\n", "8:6", "bad_choice"},
    {"KeyOfAnotherLook", "over = \"60 mm\"\nend = \"far\"\n", "7:1", "unknown_key"},
};
INSTANTIATE_TEST_SUITE_P(Align, BadTruingFile, testing::ValuesIn(kFileMistakes),
                         [](const auto& param_info) { return std::string(param_info.param.name); });

}  // namespace
}  // namespace stickwright
