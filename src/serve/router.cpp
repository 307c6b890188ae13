#include "serve/router.h"

#include <algorithm>
#include <set>

namespace stickwright {
namespace {

int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

std::optional<std::string> decoded(std::string_view text, bool plus_is_blank) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    if (c == '+' && plus_is_blank) c = ' ';
    if (c == '%') {
      if (i + 2 >= text.size()) return std::nullopt;
      const int high = hex_digit(text[i + 1]), low = hex_digit(text[i + 2]);
      if (high < 0 || low < 0) return std::nullopt;
      c = static_cast<char>(16 * high + low);
      i += 2;
    }
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) return std::nullopt;
    out += c;
  }
  return out;
}

std::vector<std::string_view> parted(std::string_view text, char at) {
  std::vector<std::string_view> out;
  while (true) {
    const std::size_t end = text.find(at);
    out.push_back(text.substr(0, end));
    if (end == std::string_view::npos) return out;
    text.remove_prefix(end + 1);
  }
}

bool read_query(std::string_view text, std::map<std::string, std::string>& query) {
  if (text.empty()) return true;
  for (std::string_view pair : parted(text, '&')) {
    const std::size_t equals = std::min(pair.find('='), pair.size());
    const auto key = decoded(pair.substr(0, equals), true);
    const auto value = decoded(pair.substr(std::min(equals + 1, pair.size())), true);
    if (!key || !value) return false;
    query.emplace(*key, *value);
  }
  return true;
}

bool is_slot(std::string_view word) {
  return word.starts_with('{') && word.ends_with('}');
}

std::optional<std::map<std::string, std::string>> slots_of(const std::string& path, const RequestTarget& target) {
  const auto words = parted(std::string_view(path).substr(1), '/');
  if (words.size() != target.parts.size()) return std::nullopt;
  std::map<std::string, std::string> out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (is_slot(words[i]))
      out[std::string(words[i].substr(1, words[i].size() - 2))] = target.parts[i];
    else if (words[i] != target.parts[i])
      return std::nullopt;
  }
  return out;
}

std::string in_words(const std::set<std::string>& methods) {
  std::string out;
  for (const std::string& m : methods) out.append(out.empty() ? "" : ", ").append(m);
  return out;
}

}  // namespace

std::string RequestTarget::path() const {
  std::string out;
  for (const std::string& part : parts) out.append("/").append(part);
  return out.empty() ? "/" : out;
}

std::optional<RequestTarget> read_target(std::string_view target) {
  if (!target.starts_with('/')) return std::nullopt;
  target = target.substr(0, target.find('#'));
  const std::size_t question = std::min(target.find('?'), target.size());
  RequestTarget out;
  if (!read_query(target.substr(std::min(question + 1, target.size())), out.query)) return std::nullopt;
  if (question == 1) return out;
  for (std::string_view part : parted(target.substr(1, question - 1), '/')) {
    auto plain = decoded(part, false);
    if (!plain) return std::nullopt;
    out.parts.push_back(*std::move(plain));
  }
  return out;
}

RouteFound find_route(const std::vector<Route>& routes, const std::string& method, const RequestTarget& target) {
  RouteFound found;
  std::set<std::string> allowed;
  for (const Route& route : routes) {
    auto slots = slots_of(route.path, target);
    if (!slots) continue;
    allowed.insert(route.method);
    if (route.method == "GET") allowed.insert("HEAD");
    const bool fits = route.method == method || (route.method == "GET" && method == "HEAD");
    if (!fits || (found.route && found.slots.size() <= slots->size())) continue;
    found.route = &route;
    found.slots = *std::move(slots);
  }
  found.allowed = in_words(allowed);
  return found;
}

}  // namespace stickwright
