#include <fmt/core.h>

#include <csignal>
#include <cstdio>

#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "serve/own_names.h"
#include "serve/server.h"

namespace stickwright {
namespace {

sigset_t ending_signals() {
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGINT);
  sigaddset(&set, SIGTERM);
  return set;
}

// All at once and before anything is served: a linear program that is solved for a call keeps standard output shut.
void print_start(Server& server) {
  std::string out = fmt::format("Open http://127.0.0.1:{}/ in a browser. Ctrl-C ends.\n", server.port());
  if (const auto& pairing = server.bench().network().pairing) {
    for (const std::string& address : own_addresses())
      out += fmt::format("On a phone in the shop's network: http://{}:{}/\n", address, server.port());
    out += fmt::format("Its code, good for ten minutes: {}\n", pairing->shown().code);
  }
  fmt::print("{}", out);
  std::fflush(stdout);
}

}  // namespace

int serve_verb(const Options& options) {
  // Blocked in all threads that come, so that only the wait below hears them.
  const sigset_t ending = ending_signals();
  pthread_sigmask(SIG_BLOCK, &ending, nullptr);
  const auto server = Server::start({.folder = options.file, .port = options.port, .lan = options.lan});
  if (!server) return tell(server.problem());
  print_start(*server.value());
  int signal = 0;
  sigwait(&ending, &signal);
  // Work that does not end soon can be ended by a second Ctrl-C.
  pthread_sigmask(SIG_UNBLOCK, &ending, nullptr);
  return kDone;
}

}  // namespace stickwright
