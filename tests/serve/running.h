// running.h - the real server on a port of its own, with a small folder and a small page.
#pragma once
#include <gtest/gtest.h>

#include <atomic>
#include <future>
#include <memory>
#include <thread>

#include "serve/client.h"
#include "serve/routes.h"
#include "serve/scratch.h"
#include "serve/server.h"

namespace stickwright {

struct Running {
  Scratch scratch;
  std::atomic<int> slow_calls = 0;  // that wait now
  std::promise<void> let_go;        // ends them
  std::shared_future<void> gone = let_go.get_future().share();
  std::unique_ptr<Server> server;

  explicit Running(ServeOptions options = {}) {
    scratch.write("secret.toml", "secret = 1");
    scratch.write("folder/shop.toml", "name = \"a shop\"\n[blade]\n");
    scratch.write("folder/star.toml", "name = \"a star\"\nfamily = \"mitered\"\n[[piece]]\n");
    scratch.write("folder/spring/batch.toml", "shop = \"../shop.toml\"\n[[puzzle]]\ndesign = \"../star.toml\"\n");
    scratch.write("folder/truing.toml", "[[reading]]\n");
    scratch.write("folder/broken.toml", "name = \n");
    scratch.write("folder/other.toml", "[package]\n");
    scratch.write("page/index.html", "<!doctype html><title>the page</title>");
    scratch.write("page/assets/index-4f9a21bc.js", "start()");
    options.folder = scratch.root() / "folder";
    options.page = scratch.root() / "page";
    options.paired = scratch.root() / "paired";
    if (!options.port) options.port = 0;
    options.routes = all_routes();
    for (Route& route : test_routes()) options.routes.push_back(std::move(route));
    server = Server::start(options).take();
  }
  ~Running() { release(); }
  void release() {
    if (!std::exchange(released_, true)) let_go.set_value();
  }

  int port() const { return server->port(); }
  Client client() const { return Client(port()); }

 private:
  std::vector<Route> test_routes() {
    return {{"GET", "/api/test/slow",
             [this](Workbench&, const Call&) {
               ++slow_calls;
               gone.wait();
               --slow_calls;
               return json_reply({{"slow", true}});
             }},
            {"POST", "/api/test/echo",
             [](Workbench&, const Call& call) {
               return json_reply({{"got", call.body}});
             }},
            {"GET", "/api/test/throws", [](Workbench&, const Call&) -> Reply { throw std::runtime_error("a plank"); }},
            {"GET", "/api/test/header",
             [](Workbench&, const Call&) {
               Reply reply = json_reply({});
               reply.headers.emplace_back("X-Name", "a\r\nSet-Cookie: token=stolen");
               return reply;
             }},
            {"GET", "/api/test/who", [](Workbench&, const Call& call) {
               return json_reply({{"desk", call.desk}});
             }}};
  }
  bool released_ = false;
};

}  // namespace stickwright
