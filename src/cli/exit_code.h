// exit_code.h - how a run ended, for whoever called it.
#pragma once

namespace stickwright {

enum ExitCode : int {
  kDone = 0,
  kAnswerIsNo = 1,   // a design that does not assemble or come apart, a rack that does not hold enough
  kBadInput = 2,     // a file or an option that the user has to mend
  kNotFinished = 3,  // stopped early by a limit, or failed (a disk that is full)
};

}  // namespace stickwright
