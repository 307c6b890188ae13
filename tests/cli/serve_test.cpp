// The verb `serve` as a program: how it begins, and how it ends.
#include <gtest/gtest.h>

#include <csignal>
#include <regex>

#include "cli/run.h"

namespace stickwright {
namespace {

const std::string kExamples = std::string(STICKWRIGHT_SOURCE) + "/examples/wrenfield";

// `timeout` sends the signal after a second; its own exit code is then that of the program.
Ran served_for_a_second(const std::string& signal, const std::string& more) {
  const std::string program = STICKWRIGHT_PROGRAM;
  return run_program_with("--version > /dev/null; timeout --preserve-status --signal=" + signal + " 1 " + program +
                          " serve " + more);
}

TEST(Serve, SaysWhereThePageIsAndEndsWithCtrlC) {
  for (const char* signal : {"INT", "TERM"}) {
    const Ran r = served_for_a_second(signal, kExamples + " --port 0");
    EXPECT_EQ(r.exit_code, 0) << signal << r.err;
    EXPECT_TRUE(
        std::regex_match(r.out, std::regex("Open http://127\\.0\\.0\\.1:[0-9]+/ in a browser\\. Ctrl-C ends\\.\n")))
        << r.out;
    EXPECT_EQ(r.err, "");
  }
}

TEST(Serve, AFolderThatIsNotThereIsOneErrorAndNothingIsServed) {
  const Ran r = run_program_with("serve no-such-folder");
  EXPECT_EQ(r.exit_code, 2);
  EXPECT_EQ(r.out, "");
  EXPECT_NE(r.err.find("no-such-folder"), std::string::npos) << r.err;
}

TEST(Serve, APortThatIsTakenIsSaidWithWhatToDo) {
  const std::string program = STICKWRIGHT_PROGRAM;
  // The first one holds the port while the second asks for it.
  const Ran r = run_program_with("--version > /dev/null; f=$(mktemp); timeout 3 " + program + " serve " + kExamples +
                                 " --port 0 > $f & sleep 1; port=$(sed 's/.*:\\([0-9]*\\)\\/.*/\\1/' $f); " + program +
                                 " serve " + kExamples + " --port $port");
  EXPECT_EQ(r.exit_code, 3);
  EXPECT_NE(r.err.find("[port_taken]"), std::string::npos) << r.err;
  EXPECT_NE(r.err.find("--port"), std::string::npos) << r.err;
}

TEST(Serve, APortThatIsNoneIsRefused) {
  EXPECT_EQ(run_program_with("serve " + kExamples + " --port 70000").exit_code, 2);
}

}  // namespace
}  // namespace stickwright
