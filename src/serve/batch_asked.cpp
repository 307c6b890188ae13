#include "serve/batch_asked.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>

#include "answers/record_answer.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDegreesPerRad = 180 / std::numbers::pi;

constexpr std::array<std::pair<const char*, const char*>, 12> kPageWords = {{
    {"say --inches", "choose inches"},
    {"; give --measured, or `stickwright record` readings first", ""},
    {": give --measured, or `stickwright record` readings first", ": type in what the test block measures"},
    {": --correct ID VALUE", ""},
    {": say --width", ""},
    {"--setup", "the set-up"},
    {"--stop", "the stop"},
    {"--over", "\"over\""},
    {"--gap", "\"gaps\""},
    {"--light", "\"light\""},
    {"--readings FILE (docs/files.md)", "\"readings\""},
    {"--keep", "\"keep\""},
}};
constexpr std::array<std::pair<const char*, const char*>, 4> kPageKeys = {{
    {"--gap", "gaps"},
    {"--measured", "measured"},
    {"--correct", "value"},
    {"--setup", "setup"},
}};

void replace_all(std::string& text, const std::string& from, const std::string& to) {
  for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size())
    text.replace(at, from.size(), to);
}

StopReadings nothing_yet(const BatchPlan& plan, const StopPlace& place) {
  StopReadings s{
      .place = place, .wanted = wanted_at(plan, place), .kept = {}, .leaves = {}, .standing = {}, .report = {}};
  s.report = report_run({}, s.wanted);
  return s;
}

int gravity(const std::string& light) {
  return light == "stop" ? 3 : light == "watch" ? 2 : light == "go" ? 1 : 0;
}

}  // namespace

bool BatchAsked::has_ledger() const {
  std::error_code ignored;
  return std::filesystem::exists(ledger, ignored);
}

Result<BatchAsked> batch_asked(Workbench& bench, const std::string& name, PlanAge age) {
  if (name.empty()) return Problem{"missing_key", "batch", "say which batch: \"batch\", the name of its file", ""};
  auto plan = age == PlanAge::fresh ? bench.plans().set_ups(name) : bench.plans().set_ups_at_hand(name);
  if (!plan) return plan.problem();
  const auto ledger = bench.folder().place_of(ledger_path(name).generic_string());
  if (!ledger) return ledger.problem();
  return BatchAsked{name, plan.take(), ledger.value()};
}

Result<int> number_asked(const Call& call, const std::string& key, int least, int most, int otherwise) {
  const std::string text = call.asked(key);
  if (text.empty()) return otherwise;
  int number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (end != text.data() + text.size() || error == std::errc::invalid_argument)
    return Problem{"wrong_type", key, fmt::format("{}: expected a whole number", key), ""};
  if (error != std::errc{} || number < least || number > most)
    return Problem{"out_of_range", key, fmt::format("{}: expected a whole number from {} to {}", key, least, most), ""};
  return number;
}

Result<bool> flag_asked(const Call& call, const std::string& key) {
  const std::string text = call.asked(key);
  if (text.empty() || text == "false" || text == "0") return false;
  if (text == "true" || text == "1") return true;
  return Problem{"wrong_type", key, fmt::format("{}: expected true or false", key), ""};
}

nlohmann::json without_empty(const nlohmann::json& value) {
  nlohmann::json out = value;
  if (value.is_array())
    for (auto& item : out) item = without_empty(item);
  if (!value.is_object()) return out;
  out = nlohmann::json::object();
  for (const auto& [key, member] : value.items()) {
    const bool empty =
        (member.is_array() && member.empty()) || (member.is_string() && member.get_ref<const std::string&>().empty());
    if (!empty) out[key] = without_empty(member);
  }
  return out;
}

Problem for_the_page(Problem p) {
  for (const auto& [option, key] : kPageKeys)
    if (p.where == option) p.where = key;
  if (p.where.starts_with("--")) p.where = p.where.substr(2);
  for (const auto& [from, to] : kPageWords) replace_all(p.say, from, to);
  return p;
}

Result<std::vector<StopReadings>> readings_now(const BatchAsked& batch, const std::vector<StopPlace>& places) {
  if (batch.has_ledger()) {
    auto opened = Ledger::open(batch.ledger);
    if (!opened) return opened.problem();
    Ledger ledger = opened.take();
    return read_back(ledger, *batch.plan, places);
  }
  std::vector<StopReadings> out;
  for (const StopPlace& place : places) out.push_back(nothing_yet(*batch.plan, place));
  return out;
}

std::string light_of(const StopReadings& s) {
  if (s.standing.empty()) return "unknown";
  switch (s.report.advice) {
    case Advice::go_on:
      return "go";
    case Advice::check:
      return "watch";
    case Advice::stop:
      return "stop";
  }
  return "unknown";
}

std::string gravest_light(const std::vector<StopReadings>& all) {
  std::string out = "unknown";
  for (const StopReadings& s : all)
    if (const std::string light = light_of(s); gravity(light) > gravity(out)) out = light;
  return out;
}

Json stop_on_the_page(const StopReadings& s) {
  Json out = stop_readings_json(s);
  out["name"] = s.place.name;
  out["size"] = s.place.size();
  out["says"] = s.standing.empty() ? "No readings yet." : advice_line(s);
  out["light"] = light_of(s);
  for (std::size_t k = 0; k < out["readings"].size(); ++k) out["readings"][k]["place"] = k;
  return out;
}

Json truings_json(const std::vector<KeptTruing>& truings) {
  Json out = Json::array();
  for (const KeptTruing& k : truings) {
    Json j = {{"id", k.id}, {"at", k.at}, {"by", k.truing.by}, {"note", k.truing.note}, {"withdrawn", k.withdrawn}};
    const std::array<std::pair<const char*, const Estimate*>, 4> errors = {
        {{"miter", &k.truing.miter}, {"tilt", &k.truing.tilt}, {"roll", &k.truing.roll}, {"pitch", &k.truing.pitch}}};
    for (const auto& [name, error] : errors) {
      // Of an error that the readings did not tell nothing is claimed.
      const bool told = std::isfinite(error->u);
      j[fmt::format("{}_deg", name)] = told ? Json(error->value * kDegreesPerRad) : Json(nullptr);
      j[fmt::format("{}_u_deg", name)] = told ? Json(error->u * kDegreesPerRad) : Json(nullptr);
    }
    out.push_back(std::move(j));
  }
  return out;
}

}  // namespace stickwright
