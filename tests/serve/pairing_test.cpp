#include "serve/pairing.h"

#include <gtest/gtest.h>
#include <sys/stat.h>

#include <cstdlib>
#include <iterator>
#include <set>

#include "serve/scratch.h"

namespace stickwright {
namespace {

using namespace std::chrono_literals;

// Pairing with a clock that a test turns.
struct Desk {
  std::chrono::system_clock::time_point now{1'900'000'000s};
  Scratch scratch;
  std::filesystem::path file = scratch.root() / "state" / "paired";
  Pairing pairing{file, [this] { return now; }};

  std::string wrong() { return pairing.shown().code == "000000" ? "111111" : "000000"; }
  std::string code_of(const Result<std::string>& r) { return r ? "let in" : r.problem().code; }
  std::string try_wrong() { return code_of(pairing.pair(wrong())); }
  std::string try_right() { return code_of(pairing.pair(pairing.shown().code)); }
};

TEST(Pairing, TheCodeOfTheDeskLetsADeviceInForThirtyDays) {
  Desk desk;
  const auto token = desk.pairing.pair(desk.pairing.shown().code);
  ASSERT_TRUE(token);
  EXPECT_EQ(token.value().size(), 64u);  // 256 bits
  EXPECT_TRUE(desk.pairing.knows(token.value()));
  EXPECT_EQ(desk.pairing.shown().paired, 1u);
  desk.now += 30 * 24h - 1s;
  EXPECT_TRUE(desk.pairing.knows(token.value()));
  desk.now += 1s;
  EXPECT_FALSE(desk.pairing.knows(token.value()));
  EXPECT_EQ(desk.pairing.shown().paired, 0u);
}

TEST(Pairing, NothingElseIsAToken) {
  Desk desk;
  const std::string token = desk.pairing.pair(desk.pairing.shown().code).value();
  std::string other = token;
  other.back() = other.back() == '0' ? '1' : '0';
  for (const std::string& no : {std::string(), other, token + "0", token.substr(1), std::string(64, '0')})
    EXPECT_FALSE(desk.pairing.knows(no));
}

TEST(Pairing, ACodeIsSixDigitsAndGoodForTenMinutes) {
  Desk desk;
  const auto shown = desk.pairing.shown();
  EXPECT_EQ(shown.code.size(), 6u);
  EXPECT_EQ(shown.code.find_first_not_of("0123456789"), std::string::npos);
  EXPECT_EQ(shown.expires_s, 600);
  desk.now += 10min;
  EXPECT_EQ(desk.code_of(desk.pairing.pair(shown.code)), "wrong_code");
  EXPECT_EQ(desk.pairing.shown().expires_s, 600);  // the desk looked again: a new one
}

TEST(Pairing, FiveWrongTriesUseACodeUpAndThenNobodyMayTryForAMinute) {
  Desk desk;
  const std::string code = desk.pairing.shown().code;
  for (int i = 1; i < kTriesPerCode; ++i) EXPECT_EQ(desk.try_wrong(), "wrong_code");
  EXPECT_EQ(desk.try_wrong(), "too_many_tries");
  EXPECT_EQ(desk.code_of(desk.pairing.pair(code)), "too_many_tries");
  desk.now += 59s;
  EXPECT_EQ(desk.try_right(), "too_many_tries");
  desk.now += 1s;
  EXPECT_EQ(desk.try_right(), "let in");
}

TEST(Pairing, TheAnswersToAMachineThatKeepsGuessingComeEverMoreSlowly) {
  Desk desk;
  const auto end = desk.now + 24h;
  int guesses = 0;
  for (; desk.now < end; desk.now += 1s)
    while (desk.pairing.pair("guess!").problem().code == "wrong_code") ++guesses;
  // Pauses of 1, 2, 4 ... 32 min (63 min in all), then of an hour: at most 30 codes in a day, of four answers "wrong".
  EXPECT_LE(guesses, 30 * 4);
  EXPECT_GT(guesses, 20 * 4);
}

TEST(Pairing, TheDeskEndsAPauseWithANewCode) {
  Desk desk;
  for (int i = 0; i < kTriesPerCode; ++i) desk.try_wrong();
  const auto renewed = desk.pairing.renew();
  EXPECT_TRUE(desk.pairing.pair(renewed.code));
}

TEST(Pairing, ARestartKeepsWhoIsLetInButNotTheCode) {
  Desk desk;
  const std::string token = desk.pairing.pair(desk.pairing.shown().code).value();
  Pairing again(desk.file, [&] { return desk.now; });
  EXPECT_TRUE(again.knows(token));
  desk.now += 31 * 24h;
  Pairing later(desk.file, [&] { return desk.now; });
  EXPECT_FALSE(later.knows(token));
}

TEST(Pairing, TheFileHoldsNoTokenAndIsItsOwnersOnly) {
  Desk desk;
  const std::string token = desk.pairing.pair(desk.pairing.shown().code).value();
  std::ifstream in(desk.file);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  EXPECT_FALSE(text.empty());
  EXPECT_EQ(text.find(token), std::string::npos);
  struct stat state = {};
  ASSERT_EQ(::stat(desk.file.c_str(), &state), 0);
  EXPECT_EQ(state.st_mode & 07777, 0600u);
}

TEST(Pairing, ForgettingLetsNobodyInAnyMore) {
  Desk desk;
  const std::string token = desk.pairing.pair(desk.pairing.shown().code).value();
  desk.pairing.forget_all();
  EXPECT_FALSE(desk.pairing.knows(token));
  EXPECT_FALSE(Pairing(desk.file, [&] { return desk.now; }).knows(token));
}

TEST(Pairing, ADamagedFileCountsAsNone) {
  for (const char* text : {"", "{", "[1, {}, {\"digest\": 7, \"until\": \"x\"}]", "null"}) {
    Scratch scratch;
    const auto file = scratch.write("paired", text);
    EXPECT_EQ(Pairing(file).shown().paired, 0u) << text;
  }
}

TEST(Pairing, OfTooManyDevicesTheOldestHasToAskAgain) {
  Desk desk;
  std::vector<std::string> tokens;
  for (std::size_t i = 0; i <= kMostPaired; ++i) tokens.push_back(desk.pairing.pair(desk.pairing.shown().code).value());
  EXPECT_FALSE(desk.pairing.knows(tokens.front()));
  EXPECT_TRUE(desk.pairing.knows(tokens[1]));
  EXPECT_EQ(std::set<std::string>(tokens.begin(), tokens.end()).size(), tokens.size());
}

TEST(Pairing, TheFileLiesOutsideOfTheFolderAndDiffersFromFolderToFolder) {
  ::setenv("XDG_STATE_HOME", "/somewhere/state", 1);
  const auto one = pairing_file("/shop/spring"), two = pairing_file("/shop/summer");
  EXPECT_NE(one, two);
  EXPECT_EQ(one.parent_path(), "/somewhere/state/stickwright");
  ::unsetenv("XDG_STATE_HOME");
}

}  // namespace
}  // namespace stickwright
