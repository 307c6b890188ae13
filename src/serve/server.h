// server.h - the workbench behind a socket: HTTP/1.1 for this machine, or for the shop's network too.
// What it does and how it is guarded: docs/workbench.md.
#pragma once
#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <vector>

#include "quantity/result.h"
#include "serve/call.h"
#include "serve/workbench.h"

namespace stickwright {

inline constexpr int kUsualPort = 8765, kPortsTried = 20;
inline constexpr std::size_t kMostHeadBytes = 16 * 1024, kMostBodyBytes = 1024 * 1024;

struct ServeOptions {
  std::filesystem::path folder = ".";
  std::optional<int> port = {};       // nothing: kUsualPort, or the next one that is free; 0: any that is free
  bool lan = false;                   // listen in the network, not only to this machine
  std::filesystem::path page = {};    // "": find_page()
  std::filesystem::path paired = {};  // where the devices let in are kept; "": pairing_file()
  std::vector<Route> routes = {};     // none: all_routes()
  std::chrono::milliseconds request_within{30'000};  // until a request has come in whole, once the last was answered
  std::chrono::milliseconds reply_within{60'000};    // until the peer has taken a reply
  std::chrono::milliseconds heartbeat{10'000};       // a sign of life on a stream where nothing happens
};

// Serves from the moment it is made, in threads of its own, until it goes: then what is being answered is finished,
// jobs are cancelled, and connections are closed.
class Server {
 public:
  //   errors   those of Folder::open; port_taken; cannot_listen
  static Result<std::unique_ptr<Server>> start(const ServeOptions& options);
  ~Server();
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  int port() const;
  Workbench& bench();

 private:
  struct Impl;
  explicit Server(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace stickwright
