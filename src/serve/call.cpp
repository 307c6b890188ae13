#include "serve/call.h"

namespace stickwright {
namespace {

int status_of(const std::string& code) {
  if (code == "no_file" || code == "no_route" || code == "no_job") return 404;
  if (code == "changed_since" || code == "is_there") return 409;
  if (code == "outside_folder") return 403;
  if (code == "locked") return 503;
  return code == "cannot_write" ? 500 : 422;
}

}  // namespace

std::string Call::asked(const std::string& key) const {
  const auto found = query.find(key);
  return found == query.end() ? "" : found->second;
}

Reply json_reply(const nlohmann::ordered_json& document, int status) {
  return {.status = status, .body = document.dump()};
}

Reply problem_reply(const Problem& p) {
  return json_reply({{"code", p.code}, {"where", p.where}, {"say", p.say}, {"excerpt", p.excerpt}}, status_of(p.code));
}

}  // namespace stickwright
