// workbench.h - what all calls of one running workbench share.
#pragma once
#include "serve/folder.h"
#include "serve/jobs.h"
#include "serve/plans.h"

namespace stickwright {

class Workbench {
 public:
  explicit Workbench(Folder folder) : folder_(std::move(folder)), plans_(folder_) {}
  const Folder& folder() const { return folder_; }
  Plans& plans() { return plans_; }
  Jobs& jobs() { return jobs_; }

 private:
  Folder folder_;
  Plans plans_;
  Jobs jobs_;  // last: work that still runs uses the others
};

}  // namespace stickwright
