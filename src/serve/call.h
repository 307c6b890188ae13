// call.h - one call of the page, and the reply to it.
#pragma once
#include <cstdint>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "quantity/result.h"

namespace stickwright {

struct Call {
  std::string method;                        // "GET", "POST", "DELETE"
  std::string path;                          // "/api/jobs/12", decoded
  std::map<std::string, std::string> query;  // decoded
  std::map<std::string, std::string> slots;  // what stood for "{id}" of the route's path
  nlohmann::json body = {};                  // of a POST, an object; else null
  bool desk = true;                          // it comes from this machine, not from the shop's network
  bool paired = false;                       // from a phone or tablet that has given the code
  std::int64_t after = 0;                    // the last event that a page has which comes back to a stream of them

  // "" when it was not given.
  std::string asked(const std::string& key) const;
};

// Events of a job, sent as they come until the last.
struct JobStream {
  std::string job;
  std::int64_t after = 0;  // the event before the first
};

struct Reply {
  int status = 200;
  std::string type = "application/json";
  std::string body = {};
  std::vector<std::pair<std::string, std::string>> headers = {};
  std::optional<Problem> problem = {};   // that the body tells; what leaves names places within the folder only
  std::optional<JobStream> stream = {};  // instead of a body
};

Reply json_reply(const nlohmann::ordered_json& document, int status = 200);
// {"code", "where", "say", "excerpt"}, with the status that fits the code: 404 no_file, 409 changed_since, 503 locked,
// 500 cannot_write and so on, see call.cpp; else 422.
Reply problem_reply(const Problem& problem);

class Workbench;

// Answers a call. Called from several threads at once.
using Handler = std::function<Reply(Workbench& bench, const Call& call)>;

struct Route {
  std::string method;
  std::string path;  // "/api/jobs/{id}"
  Handler handler;
};

}  // namespace stickwright
