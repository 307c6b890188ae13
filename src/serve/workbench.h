// workbench.h - what all calls of one running workbench share.
#pragma once
#include <memory>
#include <string>
#include <utility>

#include "serve/folder.h"
#include "serve/jobs.h"
#include "serve/pairing.h"
#include "serve/plans.h"

namespace stickwright {

// How the workbench is reached from the shop's network.
struct Network {
  int port = 0;
  std::unique_ptr<Pairing> pairing;
};

class Workbench {
 public:
  explicit Workbench(Folder folder) : folder_(std::move(folder)), plans_(folder_) {}
  const Folder& folder() const { return folder_; }
  Plans& plans() { return plans_; }
  Jobs& jobs() { return jobs_; }

  // Set before the first call; without it only this machine is let in.
  void open_to(Network network) { network_ = std::move(network); }
  const Network& network() const { return network_; }

 private:
  Folder folder_;
  Plans plans_;
  Network network_;
  Jobs jobs_;  // last: work that still runs uses the others
};

}  // namespace stickwright
