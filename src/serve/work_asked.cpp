#include "serve/work_asked.h"

#include <fmt/core.h>

#include "serve/given.h"

namespace stickwright {
namespace {

const nlohmann::json* in_body(const Call& call, const std::string& key) {
  if (!call.body.is_object()) return nullptr;
  const auto found = call.body.find(key);
  return found == call.body.end() ? nullptr : &*found;
}

Problem expected(const std::string& key, const char* what) {
  return {"bad_request", key, fmt::format("expected a body with \"{}\": {}", key, what), ""};
}

}  // namespace

std::optional<Problem> only_keys(const Call& call, const std::vector<std::string_view>& keys) {
  std::optional<Problem> problem;
  Given(call.body, problem).only(keys);
  return problem;
}

Result<std::string> text_in_body(const Call& call, const std::string& key) {
  const nlohmann::json* value = in_body(call, key);
  if (!value || !value->is_string()) return expected(key, "a text");
  return value->get<std::string>();
}

Result<std::size_t> index_in_body(const Call& call, const std::string& key) {
  const nlohmann::json* value = in_body(call, key);
  if (!value || !value->is_number_integer() || *value < 0) return expected(key, "a whole number, from 0 on");
  return value->get<std::size_t>();
}

Reply job_reply(const std::string& id) {
  return json_reply({{"job", id}}, 202);
}

}  // namespace stickwright
