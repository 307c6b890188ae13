#include "serve/guard.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>
#include <string_view>

namespace stickwright {
namespace {

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
  return text;
}

bool is_api(const Knock& k) {
  return k.path == "/api" || k.path.starts_with("/api/");
}

bool changes_something(const Knock& k) {
  return k.method != "GET" && k.method != "HEAD";
}

bool is_ours(const std::string& host, const Door& door) {
  const auto is = [&](const std::string& name) {
    const std::string bracketed = name.find(':') == std::string::npos ? name : fmt::format("[{}]", name);
    return host == fmt::format("{}:{}", bracketed, door.port) || (door.port == 80 && host == bracketed);
  };
  return is("127.0.0.1") || is("localhost") || is("::1") ||
         (door.lan && std::any_of(door.names.begin(), door.names.end(), is));
}

std::optional<Problem> look_at_host(const Knock& k, const Door& door) {
  if (k.host && is_ours(lower(*k.host), door)) return std::nullopt;
  return Problem{"wrong_host", "",
                 fmt::format("this is the workbench at http://127.0.0.1:{}/; it answers to no other name", door.port),
                 ""};
}

// Scripts, forms and images of other sites; a link from one to the page itself is all right.
std::optional<Problem> look_at_origin(const Knock& k) {
  const Problem foreign{"foreign_origin", "", "only the workbench's own page may ask this", ""};
  if (k.origin && lower(*k.origin) != fmt::format("http://{}", lower(*k.host))) return foreign;
  const bool own_site = !k.fetch_site || *k.fetch_site == "same-origin" || *k.fetch_site == "none";
  if (!own_site && (is_api(k) || changes_something(k))) return foreign;
  if (changes_something(k) && !k.origin && !k.fetch_site) {
    Problem unknown = foreign;
    unknown.say += ": expected an Origin or a Sec-Fetch-Site header, which every browser sends";
    return unknown;
  }
  return std::nullopt;
}

std::optional<Problem> look_at_type(const Knock& k) {
  if (!changes_something(k)) return std::nullopt;
  std::string type = lower(k.content_type.value_or(""));
  if (const std::size_t end = type.find(';'); end != std::string::npos) type.resize(end);
  while (!type.empty() && type.back() == ' ') type.pop_back();
  if (type == "application/json") return std::nullopt;
  return Problem{"not_json", "", "expected a call with Content-Type: application/json", ""};
}

std::optional<Problem> look_at_token(const Knock& k) {
  const bool anybodys = !is_api(k) || k.path == "/api/pair" || k.path == "/api/pairing/needed";
  if (k.loopback || k.paired || anybodys) return std::nullopt;
  return Problem{"not_paired", "",
                 "this device has not been let in yet: enter the code that the workbench shows at the desk", ""};
}

}  // namespace

std::optional<Problem> why_refused(const Knock& knock, const Door& door) {
  if (auto problem = look_at_host(knock, door)) return problem;
  if (auto problem = look_at_origin(knock)) return problem;
  if (auto problem = look_at_token(knock)) return problem;
  return look_at_type(knock);
}

std::string token_in(const std::string& cookies) {
  constexpr std::string_view kName = "token=";
  for (std::size_t at = 0; at < cookies.size();) {
    const std::size_t end = std::min(cookies.find(';', at), cookies.size());
    std::string_view one = std::string_view(cookies).substr(at, end - at);
    while (one.starts_with(' ')) one.remove_prefix(1);
    if (one.starts_with(kName)) return std::string(one.substr(kName.size()));
    at = end + 1;
  }
  return "";
}

}  // namespace stickwright
