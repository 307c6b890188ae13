// Readings on the command line, from a pipe, from a table and from a keyboard; corrections; what is refused.
#include <gtest/gtest.h>
#include <pty.h>
#include <termios.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <thread>

#include "cli/run.h"
#include "support/small_batch.h"

namespace stickwright {
namespace {

using Json = nlohmann::json;

struct Bench {
  Scratch s{"record"};
  std::string batch = small_batch(s);
  std::filesystem::path ledger = s.path / "batch.ledger";

  Ran record(const std::string& arguments) const { return run_program_with("record " + batch + " " + arguments); }
  Ran piped(const std::string& text, const std::string& arguments) const {
    return record(arguments + " < " + s.write("input.txt", text));
  }
  Json history() const { return Json::parse(run_program_with("history " + batch + " --json").out); }
  std::vector<double> values() const {
    std::vector<double> out;
    const Json all = history();
    for (const Json& stop : all["stops"])
      for (const Json& r : stop["readings"]) out.push_back(r["value_mm"]);
    return out;
  }
};

using Values = std::vector<double>;

TEST(Record, AnswersInJsonWithTheNamesThatAreDocumented) {
  const Bench b;
  const Ran r = b.record("--setup squat-octahedron 16.00 16.02 16.01 --wood cherry --stick A --by Kim --note t --json");
  ASSERT_EQ(r.exit_code, 0) << r.err;
  const Json j = Json::parse(r.out);
  EXPECT_EQ(j["setup"], "squat-octahedron");
  EXPECT_EQ(j["stop"], 1);
  EXPECT_EQ(j["unit"], "mm");
  EXPECT_EQ(j["target_mm"], 16.0);
  EXPECT_EQ(j["stored"].size(), 3u);
  EXPECT_EQ(j["stored"][1]["value_mm"], 16.02);
  EXPECT_EQ(j["stored"][1]["id"], 2);
  EXPECT_EQ(j["readings"][0]["wood"], "black cherry");
  EXPECT_EQ(j["readings"][0]["instrument"], "bench micrometer");
  EXPECT_EQ(j["readings"][0]["by"], "Kim");
  // By hand: moving ranges 0.02 and 0.01.
  EXPECT_NEAR(j["mean"], 16.01, 1e-9);
  EXPECT_NEAR(j["sd"], 0.01, 1e-9);
  EXPECT_NEAR(j["limits"]["upper"], 16.01 + 3 * 0.015 / 1.128, 1e-9);
  EXPECT_NEAR(j["limits"]["lower"], 16.01 - 3 * 0.015 / 1.128, 1e-9);
  EXPECT_NEAR(j["limits"]["moving_range_upper"], 3.267 * 0.015, 1e-9);
  EXPECT_NEAR(j["capability"]["cpk"], 0.04 / (3 * 0.015 / 1.128), 1e-9);
  EXPECT_FALSE(j["capability"]["enough"]);
  EXPECT_NEAR(j["drift"]["slope_mm_per_reading"], 0.005, 1e-9);
  EXPECT_EQ(j["signals"].size(), 0u);
  EXPECT_EQ(j["verdict"], "go_on");
}

TEST(Record, TakesWhatACaliperTypes) {
  const Bench b;
  ASSERT_EQ(b.record("--setup 2 16.02 \"16.03 mm\" \" 0.63in\" +16.020 16,02").exit_code, 0);
  EXPECT_EQ(b.values(), (Values{16.02, 16.03, 16.002, 16.02, 16.02}));
  ASSERT_EQ(b.piped("+16.020\r\n16,02\t16.01 mm\n 0.63in", "--setup 2").exit_code, 0);
  EXPECT_EQ(b.values().size(), 9u);
  ASSERT_EQ(b.record("--setup 2 0.63 --inches").exit_code, 0);
  EXPECT_EQ(b.values().back(), 16.002);
}

TEST(Record, ABadValueLeavesNothingBehind) {
  const Bench b;
  for (const char* bad : {"16.02 99", "16.02 abc", "0.63", "16.02 16.0.3"}) {
    const Ran r = b.record(std::string("--setup 2 ") + bad);
    EXPECT_EQ(r.exit_code, 2) << bad;
    EXPECT_EQ(std::count(r.err.begin(), r.err.end(), '\n'), 1) << r.err;
  }
  EXPECT_NE(b.record("--setup 2 0.63").err.find("--inches"), std::string::npos);
  EXPECT_EQ(b.piped("16.02\n16.03\nabc\n", "--setup 2").exit_code, 2);
  EXPECT_EQ(b.piped("", "--setup 2").exit_code, 2);
  EXPECT_EQ(b.piped("\n\n", "--setup 2").exit_code, 2);
  EXPECT_FALSE(std::filesystem::exists(b.ledger));
}

TEST(Record, APlaceThatTheBatchDoesNotHaveIsTold) {
  const Bench b;
  EXPECT_EQ(b.record("16.02").exit_code, 2);
  EXPECT_NE(b.record("--setup prism 16.02").err.find("[unknown_set_up]"), std::string::npos);
  EXPECT_NE(b.record("--setup 2 --stop 9 16.02").err.find("[unknown_stop]"), std::string::npos);
  EXPECT_NE(b.record("--setup 2 --wood cheese 16.02").err.find("[unknown_wood]"), std::string::npos);
  EXPECT_FALSE(std::filesystem::exists(b.ledger));
}

TEST(Record, ANoteThatIsNoTextIsRefused) {
  const Bench b;
  EXPECT_EQ(b.record("--setup 2 16.02 --note \"$(printf '\\377')\"").exit_code, 2);
  EXPECT_EQ(b.record("--setup 2 16.02 --by \"$(printf 'a\\nb')\"").exit_code, 2);
  EXPECT_FALSE(std::filesystem::exists(b.ledger));
}

TEST(Record, LineByLineABadLineKeepsNobodyFromGoingOn) {
  const Bench b;
  const Ran r = b.piped("16.02\nabc\n16.03 99\n16.04\n", "--setup 2 --each");
  EXPECT_EQ(r.exit_code, 2);
  EXPECT_EQ(b.values(), (Values{16.02, 16.04}));
  EXPECT_EQ(std::count(r.err.begin(), r.err.end(), '\n'), 2) << r.err;
  EXPECT_NE(r.out.find("stored 1: 16.020 mm; mean of 1: 16.0200 mm; go_on\n"), std::string::npos) << r.out;
  EXPECT_NE(r.out.find("stored 2: 16.040 mm; mean of 2: 16.0300 mm"), std::string::npos) << r.out;
}

TEST(Record, AReadingOutsideTheToleranceStopsAtOnce) {
  const Bench b;
  const Ran r = b.piped("16.00\n16.06\n", "--setup 2 --each");
  EXPECT_NE(r.out.find("; stop\n  Stop. The last reading, 16.060 mm, is outside"), std::string::npos) << r.out;
  EXPECT_EQ(b.history()["stops"][0]["verdict"], "stop");
}

TEST(Record, ATableIsStoredWholeOrNotAtAll) {
  const Bench b;
  const std::string good = b.s.write("good.csv", "value;stick;wood;at\n16,02;A;cherry;2031-02-04T18:30\n16,03;B;;\n");
  ASSERT_EQ(b.record("--setup 2 --wood 'sugar maple' --csv " + good).exit_code, 0);
  const Json r = b.history()["stops"][0]["readings"];
  EXPECT_EQ(r[0]["wood"], "black cherry");
  EXPECT_EQ(r[0]["taken_at"], "2031-02-04T18:30");
  EXPECT_EQ(r[0]["entered"], "csv");
  EXPECT_EQ(r[1]["wood"], "sugar maple");
  const struct {
    const char *text, *where;
  } mistakes[] = {{"value\n16.02\n16.x\n", "bad.csv:3:1: "},
                  {"note,value\na,16.02\nb,99\n", "bad.csv:3:3: "},
                  {"value,wood\n16.02,cheese\n", "bad.csv:2:1: "},
                  {"size\n16\n", "bad.csv:1:1: "}};
  for (const auto& m : mistakes) {
    const Ran bad = b.record("--setup 2 --csv " + b.s.write("bad.csv", m.text));
    EXPECT_EQ(bad.exit_code, 2);
    EXPECT_NE(bad.err.find(m.where), std::string::npos) << bad.err;
  }
  EXPECT_EQ(b.record("--setup 2 --csv no/such.csv").exit_code, 2);
  EXPECT_EQ(b.record("--setup 2 --csv " + b.s.path.string()).exit_code, 2);
  EXPECT_EQ(b.values().size(), 2u);
}

TEST(Record, CorrectionsAreNewEntriesAndTheOldValueIsShown) {
  const Bench b;
  ASSERT_EQ(b.record("--setup 2 16.02 16.20 16.01").exit_code, 0);
  ASSERT_EQ(b.record("--correct 2 16.02 --note misread --by Kim").exit_code, 0);
  ASSERT_EQ(b.record("--withdraw 3 --note chip").exit_code, 0);
  EXPECT_EQ(b.values(), (Values{16.02, 16.02}));
  const Json stop = b.history()["stops"][0];
  EXPECT_EQ(stop["readings"][1]["first_value_mm"], 16.2);
  EXPECT_EQ(stop["readings"][1]["changes"][0]["note"], "misread");
  EXPECT_EQ(stop["not_counted"][0]["id"], 3);
  const std::string page = run_program_with("history " + b.batch).out;
  EXPECT_NE(page.find("was 16.200 mm (misread)"), std::string::npos) << page;
  EXPECT_NE(page.find("withdrawn (chip)"), std::string::npos) << page;
  EXPECT_EQ(b.record("--correct 2 99").exit_code, 2);
  EXPECT_EQ(b.record("--correct 2").exit_code, 2);
  EXPECT_EQ(b.record("--correct 77 16.02").exit_code, 2);
  EXPECT_EQ(b.record("--correct 1 16.02 --withdraw 1").exit_code, 2);
  EXPECT_EQ(b.values(), (Values{16.02, 16.02}));
}

TEST(Record, NothingToCorrectMakesNoFile) {
  const Bench b;
  EXPECT_EQ(b.record("--withdraw 1").exit_code, 2);
  EXPECT_FALSE(std::filesystem::exists(b.ledger));
}

TEST(Record, TwoProgramsAtOnceBothEndUpStored) {
  const Bench b;
  std::string lines[2];
  for (int w = 0; w < 2; ++w)
    for (int i = 0; i < 40; ++i) lines[w] += "16.0" + std::to_string(w) + std::to_string(10 + i) + "\n";
  std::vector<int> codes(2, -1);
  {
    std::vector<std::jthread> both;
    for (int w = 0; w < 2; ++w)
      both.emplace_back([&, w] {
        const std::string file = b.s.write("lines" + std::to_string(w), lines[w]);
        codes[w] = std::system((std::string(STICKWRIGHT_PROGRAM) + " record " + b.batch + " --setup 2 --each < " +
                                file + " > /dev/null 2>&1")
                                   .c_str());
      });
  }
  EXPECT_EQ(codes, (std::vector<int>{0, 0}));
  std::vector<double> values = b.values();
  std::sort(values.begin(), values.end());
  ASSERT_EQ(values.size(), 80u);
  for (int i = 0; i < 80; ++i) EXPECT_NEAR(values[i], 16 + (i / 40) * 0.01 + 0.001 + (i % 40) * 0.0001, 1e-9);
}

TEST(Record, WhereTheLedgerCannotBeTheExitCodeSaysWhy) {
  const Bench folder;
  std::filesystem::create_directory(folder.ledger);
  EXPECT_EQ(folder.record("--setup 2 16.02").exit_code, 2);
  EXPECT_EQ(run_program_with("history " + folder.batch).exit_code, 2);
  const Bench text;
  text.s.write("batch.ledger", "this is a letter to my aunt");
  EXPECT_EQ(text.record("--setup 2 16.02").exit_code, 2);
  EXPECT_EQ(slurp(text.ledger), "this is a letter to my aunt");
  const Bench dangling;
  std::filesystem::create_symlink("/proc/no.ledger", dangling.ledger);
  EXPECT_EQ(dangling.record("--setup 2 16.02").exit_code, 3);
}

// What a program on a terminal sees of a person and of a caliper that types.
class Terminal {
 public:
  explicit Terminal(const std::string& command) {
    process_ = ::forkpty(&keys_, nullptr, nullptr, nullptr);
    if (process_ == 0) {
      ::execl("/bin/sh", "sh", "-c", command.c_str(), nullptr);
      ::_exit(127);
    }
  }
  ~Terminal() { ::close(keys_); }
  void type(const std::string& text) {
    EXPECT_EQ(::write(keys_, text.data(), text.size()), static_cast<ssize_t>(text.size()));
  }
  // Reads until the text has appeared on the screen.
  bool shows(const std::string& text) {
    char buffer[4096];
    while (screen_.find(text) == std::string::npos) {
      const ssize_t n = ::read(keys_, buffer, sizeof buffer);
      if (n <= 0) return false;
      screen_.append(buffer, static_cast<std::size_t>(n));
    }
    return true;
  }
  int end() {
    while (shows("\x01 never")) {
    }
    int status = 0;
    ::waitpid(process_, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }
  const std::string& screen() const { return screen_; }

 private:
  int keys_ = -1;
  pid_t process_ = -1;
  std::string screen_;
};

TEST(Record, AtATerminalEnterAndTabBothEndAReadingAndEachIsAnsweredAtOnce) {
  const Bench b;
  Terminal t(std::string(STICKWRIGHT_PROGRAM) + " record " + b.batch + " --setup 2");
  ASSERT_TRUE(t.shows("Ctrl-D ends")) << t.screen();
  t.type("16.02\r");
  ASSERT_TRUE(t.shows("stored 1: 16.020 mm")) << t.screen();
  t.type("+16.030\t");
  ASSERT_TRUE(t.shows("stored 2: 16.030 mm")) << t.screen();
  t.type("99\r");
  ASSERT_TRUE(t.shows("[impossible_value]")) << t.screen();
  t.type("16,01 mm\r");
  ASSERT_TRUE(t.shows("stored 3: 16.010 mm")) << t.screen();
  t.type("\x04");
  EXPECT_EQ(t.end(), 0) << t.screen();
  EXPECT_EQ(b.values(), (Values{16.02, 16.03, 16.01}));
  EXPECT_EQ(b.history()["stops"][0]["readings"][0]["entered"], "typed");
}

TEST(Record, CtrlCAtATerminalEndsWithTheReportAndTheTerminalAsItWas) {
  const Bench b;
  Terminal t("before=$(stty -g); " STICKWRIGHT_PROGRAM " record " + b.batch +
             " --setup 2; test \"$before\" = \"$(stty -g)\" && echo as it was");
  ASSERT_TRUE(t.shows("Ctrl-D ends")) << t.screen();
  t.type("16.02\r");
  ASSERT_TRUE(t.shows("stored 1")) << t.screen();
  t.type("\x03");
  EXPECT_TRUE(t.shows("1 reading, mean")) << t.screen();
  t.end();
  EXPECT_EQ(b.values(), (Values{16.02}));
}

}  // namespace
}  // namespace stickwright
