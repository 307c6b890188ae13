// plans.h - plans are values: computed once for the files as they are, and again when a file has changed.
#pragma once
#include <memory>
#include <string>

#include "batch/full_plan.h"
#include "serve/first_look.h"
#include "serve/folder.h"

namespace stickwright {

template <class T>
using Shared = std::shared_ptr<const T>;

// A fit, and the set-ups that it is of.
struct FittedBatch {
  Shared<BatchPlan> set_ups;
  FitPlan fit;
};

// Safe to call from several threads; whoever asks for a plan that is being computed waits for it. Files are named
// relative to the folder; places in problems are, too.
//   errors   of all: those of Folder::file; outside_folder (a batch names a file that does not lie in the folder)
class Plans {
 public:
  explicit Plans(const Folder& folder);
  ~Plans();

  // Of a batch file, without set-ups: for pictures, which should not wait for the saw.   errors   those of plan_puzzles
  Result<Shared<BatchPlan>> puzzles(const std::string& batch);
  // Of a batch file.   errors   those of plan_set_ups
  Result<Shared<BatchPlan>> set_ups(const std::string& batch);
  // The same, but it may not know of readings and leaves that came into the ledger since: for what does not depend on
  // them (which stops there are, what size is wanted), and has to be answered at once.
  Result<Shared<BatchPlan>> set_ups_at_hand(const std::string& batch);
  // The two below are of set-ups as they were when they were computed, which may be older than what set_ups() gives
  // now; full() holds its own.   errors   also those of plan_fit; of full() those of plan_batch
  Result<Shared<FitPlan>> fit(const std::string& batch);
  Result<Shared<FullPlan>> full(const std::string& batch);
  // The same fit with its set-ups, for whoever listens to it. What was ended is returned as far as it came, and not
  // kept.   errors   as fit()
  Result<Shared<FittedBatch>> fitted(const std::string& batch, const FitListener& listener);
  // Nothing when it was not worked out yet for the files and the ledger as they are.   errors   those of Folder::file
  Result<Shared<FittedBatch>> fitted_at_hand(const std::string& batch);
  // Of a design file: what a short search tells, and how its pieces are glued.   errors   those of load_design; that it
  // does not work, or that the time was too short, is an answer, no error
  Result<Shared<FirstLook>> look(const std::string& design);
  Result<Shared<DesignPlan>> design(const std::string& design);  // the plan of look()
  // A longer search has found out more of the design in that state: look() tells it from now on.
  //   state   version_of the text that the plan is of
  void learn(const std::string& design, const std::string& state, DesignPlan plan);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace stickwright
