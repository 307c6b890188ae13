// two_puzzles_bench.h - a workbench on a small batch, the calls of batch and fit, and their jobs waited for.
#pragma once
#include <gtest/gtest.h>

#include <chrono>
#include <nlohmann/json.hpp>
#include <thread>

#include "serve/routes.h"
#include "serve/workbench.h"
#include "support/two_puzzles.h"

namespace stickwright {

using Json = nlohmann::json;

struct Answer {
  int status = 0;
  Json body;
};

class TwoPuzzlesBench {
 public:
  TwoPuzzlesBench() : batch_(two_puzzles(scratch_)), bench_(Folder::open(scratch_.path).take()) {
    for (auto* routes : {batch_routes, fit_routes, job_routes})
      for (Route& route : routes()) routes_.push_back(std::move(route));
  }

  const Scratch& scratch() const { return scratch_; }
  const std::string& batch() const { return batch_; }
  Workbench& bench() { return bench_; }

  Reply reply(const std::string& method, const std::string& path, const Json& body = nullptr) {
    for (const Route& route : routes_)
      if (route.method == method && route.path == path)
        return route.handler(
            bench_, {.method = method, .path = path, .query = {{"batch", "batch.toml"}}, .slots = {}, .body = body});
    ADD_FAILURE() << "no route " << method << " " << path;
    return {};
  }
  Answer get(const std::string& path) { return answer(reply("GET", path)); }
  Answer post(const std::string& path, const Json& body) { return answer(reply("POST", path, body)); }

  // The job's last snapshot.
  Json over(const std::string& job) {
    for (int k = 0; k < 6000; ++k) {
      const auto now = bench_.jobs().snapshot(job);
      if (now && (*now)["state"] != "running") return *now;
      std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    ADD_FAILURE() << "the job does not end";
    return {};
  }
  Json done(const std::string& path, const Json& body = {{"batch", "batch.toml"}}) {
    const Answer begun = post(path, body);
    EXPECT_EQ(begun.status, 202) << begun.body;
    return over(begun.body.at("job"));
  }

 private:
  static Answer answer(const Reply& r) { return {r.status, Json::parse(r.body)}; }
  Scratch scratch_{"two_puzzles"};
  std::string batch_;
  Workbench bench_;
  std::vector<Route> routes_;
};

}  // namespace stickwright
