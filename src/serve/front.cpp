#include "serve/front.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <exception>

#include "serve/own_names.h"

namespace stickwright {
namespace {

// Nothing but the page's own files runs or is shown; no other site may frame it, read it, or be told where one was.
constexpr const char* kOnEveryReply =
    "Content-Security-Policy: default-src 'self'; img-src 'self' data: blob:; style-src 'self' 'unsafe-inline'; "
    "connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'self'\r\n"
    "X-Content-Type-Options: nosniff\r\n"
    "Referrer-Policy: no-referrer\r\n"
    "Cross-Origin-Resource-Policy: same-origin\r\n";

Reply wrong_method(const std::string& allowed) {
  Reply reply = problem_reply({"wrong_method", "", "this cannot be asked in this way: expected " + allowed, ""});
  reply.headers.emplace_back("Allow", allowed);
  return reply;
}

Reply no_route(const std::string& path) {
  return problem_reply({"no_route", path, "there is nothing here; the page is at /", ""});
}

std::int64_t number_in(const std::string& text) {
  std::int64_t out = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), out);
  return error == std::errc() && end == text.data() + text.size() && out > 0 ? out : 0;
}

bool is_header_text(const std::string& text) {
  return std::none_of(text.begin(), text.end(), [](unsigned char c) { return c < 0x20 || c == 0x7F; });
}

// Far deeper than any call is: a reader that goes down level by level is not led on for ever.
constexpr int kDeepest = 32;
constexpr const char* kTooDeep = "lists and objects lie too deep in one another: expected at most 32 levels";

bool nests_too_deep(std::string_view json) {
  int depth = 0;
  bool in_text = false;
  for (std::size_t i = 0; i < json.size(); ++i) {
    const char c = json[i];
    if (in_text && c == '\\')
      ++i;
    else if (c == '"')
      in_text = !in_text;
    else if (!in_text && (c == '[' || c == '{') && ++depth > kDeepest)
      return true;
    else if (!in_text && (c == ']' || c == '}'))
      --depth;
  }
  return false;
}

Problem failed(const std::string& why) {
  return {"failed", "", "the program could not answer, which is a mistake of its own: " + why, ""};
}

}  // namespace

Front::Front(Workbench& bench, PageFiles page, std::vector<Route> routes, int port)
    : bench_(bench), page_(std::move(page)), routes_(std::move(routes)), port_(port) {}

// A laptop changes its address when it changes the network: looked up for every request.
Door Front::door() const {
  const bool lan = bench_.network().pairing != nullptr;
  return {port_, lan, lan ? own_names() : std::vector<std::string>{}};
}

Heard Front::hear(const RequestHead& head) const {
  const auto target = read_target(head.target);
  if (!target) return {problem_reply({"bad_request", "", "this is no path that can be asked for", ""}), nullptr, {}};
  const std::string path = target->path();
  const auto& pairing = bench_.network().pairing;
  const bool paired = pairing && head.cookie && pairing->knows(token_in(*head.cookie));
  const Knock knock{head.method,       path,          head.host, head.origin, head.fetch_site,
                    head.content_type, head.loopback, paired};
  if (const auto problem = why_refused(knock, door())) return {problem_reply(*problem), nullptr, {}};
  if (target->parts.empty() || target->parts.front() != "api") return {page_reply(head, *target), nullptr, {}};
  const RouteFound found = find_route(routes_, head.method, *target);
  if (!found.route) return {found.allowed.empty() ? no_route(path) : wrong_method(found.allowed), nullptr, {}};
  Heard heard{std::nullopt, found.route, {found.route->method, path, target->query, found.slots}};
  heard.call.desk = head.loopback;
  heard.call.paired = paired;
  heard.call.after = number_in(head.last_event_id.value_or(heard.call.asked("after")));
  return heard;
}

Reply Front::within_folder(Reply reply) const {
  if (!reply.problem) return reply;
  Reply told = problem_reply(bench_.folder().shown(*reply.problem));
  told.status = reply.status;
  told.headers = std::move(reply.headers);
  return told;
}

Reply Front::page_reply(const RequestHead& head, const RequestTarget& target) const {
  const auto found = page_.find(target.path());
  if (found == page_.end()) return no_route(target.path());
  if (head.method != "GET" && head.method != "HEAD") return wrong_method("GET, HEAD");
  const PageFile& file = found->second;
  Reply reply{.type = file.type, .headers = {{"ETag", file.etag}, {"Cache-Control", file.cache}}};
  if (head.if_none_match && head.if_none_match->find(file.etag) != std::string::npos)
    reply.status = 304;
  else
    reply.body = file.body;
  return reply;
}

Reply Front::answer(const Heard& heard, const std::string& body) const {
  Call call = heard.call;
  if (call.method != "GET" && !body.empty()) {
    if (nests_too_deep(body)) return problem_reply({"bad_json", "", kTooDeep, ""});
    call.body = nlohmann::json::parse(body, nullptr, false);
    if (!call.body.is_object())
      return problem_reply({"bad_json", "", "expected one JSON object, as {\"code\": \"123456\"}", ""});
  } else if (call.method == "POST") {
    call.body = nlohmann::json::object();
  }
  try {
    return within_folder(heard.route->handler(bench_, call));
  } catch (const std::exception& error) {
    return problem_reply(failed(error.what()));
  } catch (...) {
    return problem_reply(failed("of a kind that has no words"));
  }
}

std::string head_text(const Reply& reply, std::string_view reason, bool closes) {
  std::string out = fmt::format("HTTP/1.1 {} {}\r\n", reply.status, reason);
  const bool bodiless = reply.status == 204 || reply.status == 304;
  if (!bodiless) out += fmt::format("Content-Type: {}\r\n", reply.type);
  if (!bodiless && !reply.stream) out += fmt::format("Content-Length: {}\r\n", reply.body.size());
  bool has_cache = false;
  for (const auto& [name, value] : reply.headers) {
    if (!is_header_text(name) || !is_header_text(value)) continue;
    has_cache |= name == "Cache-Control";
    out += fmt::format("{}: {}\r\n", name, value);
  }
  if (!has_cache) out += "Cache-Control: no-store\r\n";
  out += kOnEveryReply;
  return out + (closes ? "Connection: close\r\n\r\n" : "Connection: keep-alive\r\n\r\n");
}

}  // namespace stickwright
