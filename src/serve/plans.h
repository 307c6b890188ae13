// plans.h - plans are values: computed once for the files as they are, and again when a file has changed.
#pragma once
#include <memory>
#include <string>

#include "batch/full_plan.h"
#include "serve/folder.h"

namespace stickwright {

template <class T>
using Shared = std::shared_ptr<const T>;

// Safe to call from several threads; whoever asks for a plan that is being computed waits for it.
class Plans {
 public:
  explicit Plans(const Folder& folder);
  ~Plans();

  // Of a batch file, named relative to the folder.   errors   of the folder and of plan_set_ups, plan_batch ...
  Result<Shared<BatchPlan>> set_ups(const std::string& batch);
  // The same, but it may not know of readings and leaves that came into the ledger since: for what does not depend on
  // them (which stops there are, what size is wanted), and has to be answered at once.
  Result<Shared<BatchPlan>> set_ups_at_hand(const std::string& batch);
  Result<Shared<FitPlan>> fit(const std::string& batch);
  Result<Shared<FullPlan>> full(const std::string& batch);
  // Of a design file: goes together, comes apart; one assembly is enough.
  Result<Shared<DesignPlan>> design(const std::string& design);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace stickwright
