// wrenfield_bench.h - a workbench on a copy of the example batch, and its calls.
#pragma once
#include <gtest/gtest.h>

#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "ledger/ledger.h"
#include "serve/routes.h"
#include "serve/workbench.h"
#include "support/scratch.h"

namespace stickwright {

using Json = nlohmann::json;

struct Told {
  int status = 0;
  Json body;
};

// All handlers of the saw and the ledger over one folder.
class CallDesk {
 public:
  explicit CallDesk(const std::filesystem::path& folder) : bench_(Folder::open(folder).take()), routes_(saw_routes()) {
    for (const Route& route : ledger_routes()) routes_.push_back(route);
  }
  Reply reply(const std::string& method, const std::string& path, std::map<std::string, std::string> query,
              const Json& body = nullptr) {
    for (const Route& route : routes_)
      if (route.method == method && route.path == path) {
        Call call;
        call.method = method;
        call.path = path;
        call.query = std::move(query);
        call.body = body;
        return route.handler(bench_, call);
      }
    ADD_FAILURE() << "no route " << method << " " << path;
    return {};
  }
  Told get(const std::string& path, std::map<std::string, std::string> query) {
    query.emplace("batch", "batch.toml");
    return told(reply("GET", path, std::move(query)));
  }
  Told post(const std::string& path, Json body) {
    if (body.is_object() && !body.contains("batch")) body["batch"] = "batch.toml";
    return told(reply("POST", path, {}, body));
  }
  Workbench& bench() { return bench_; }
  const BatchPlan& plan() {
    plan_ = bench_.plans().set_ups_at_hand("batch.toml").take();
    return *plan_;
  }

 private:
  static Told told(const Reply& reply) { return {reply.status, Json::parse(reply.body)}; }
  Workbench bench_;
  std::vector<Route> routes_;
  Shared<BatchPlan> plan_;
};

struct Wrenfield {
  Scratch s{"workbench"};
  std::filesystem::path ledger = s.path / "batch.ledger";
  Wrenfield() {
    for (const auto& file : std::filesystem::directory_iterator(STICKWRIGHT_SOURCE "/examples/wrenfield"))
      if (file.path().extension() == ".toml") std::filesystem::copy_file(file.path(), s.path / file.path().filename());
  }
};

// One folder and one workbench for all tests of a program, so that the batch is planned once; each test begins and ends
// without a ledger.
struct WrenfieldBench {
  const Scratch& s = folder().s;
  const std::filesystem::path& ledger = folder().ledger;
  CallDesk& desk = desk_there();
  WrenfieldBench() { clear(); }
  ~WrenfieldBench() { clear(); }
  WrenfieldBench(const WrenfieldBench&) = delete;
  Told get(const std::string& path, std::map<std::string, std::string> query = {}) {
    return desk.get(path, std::move(query));
  }
  Told post(const std::string& path, Json body) { return desk.post(path, std::move(body)); }
  // One reading of stop 1 of the squat octahedron, or of what `more` says.
  Told record(const std::string& key, const std::string& value, Json more = Json::object()) {
    Json body = {{"setup", "squat-octahedron"}, {"stop", 1}, {"readings", {{{"key", key}, {"value", value}}}}};
    body.update(more);
    return post("/api/record", body);
  }
  std::vector<KeptReading> kept() {
    Ledger open = Ledger::open(ledger).take();
    return open.readings().take();
  }

 private:
  static const Wrenfield& folder() {
    static const Wrenfield there;
    return there;
  }
  static CallDesk& desk_there() {
    static CallDesk there(folder().s.path);
    return there;
  }
  void clear() const {
    for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(ledger.string() + end);
  }
};

}  // namespace stickwright
