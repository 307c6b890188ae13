#include "serve/call.h"

namespace stickwright {
namespace {

// What the user has to mend in a file or a number is 422; the others stand here.
const std::map<std::string, int>& statuses() {
  static const std::map<std::string, int> all = {
      {"bad_request", 400},   {"bad_json", 400},       {"not_paired", 401},        {"outside_folder", 403},
      {"only_desk", 403},     {"wrong_code", 403},     {"foreign_origin", 403},    {"no_file", 404},
      {"no_route", 404},      {"no_job", 404},         {"not_lan", 404},           {"wrong_method", 405},
      {"changed_since", 409}, {"is_there", 409},       {"too_large", 413},         {"not_json", 415},
      {"wrong_host", 421},    {"too_many_tries", 429}, {"headers_too_large", 431}, {"failed", 500},
      {"cannot_write", 500},  {"locked", 503},         {"too_busy", 503},          {"wrong_version", 505}};
  return all;
}

}  // namespace

std::string Call::asked(const std::string& key) const {
  const auto found = query.find(key);
  return found == query.end() ? "" : found->second;
}

// A file name or an excerpt may hold what is no UTF-8: it is shown with a replacement character.
Reply json_reply(const nlohmann::ordered_json& document, int status) {
  return {.status = status, .body = document.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace)};
}

Reply problem_reply(const Problem& p) {
  const auto found = statuses().find(p.code);
  Reply reply = json_reply({{"code", p.code}, {"where", p.where}, {"say", p.say}, {"excerpt", p.excerpt}},
                           found == statuses().end() ? 422 : found->second);
  reply.problem = p;
  return reply;
}

}  // namespace stickwright
