#include <fmt/core.h>

#include <algorithm>
#include <cctype>

#include "answers/history_answer.h"
#include "serve/record_asked.h"
#include "serve/routes.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Reply record_reply(Workbench& bench, const Call& call) {
  std::optional<Problem> wrong;
  const nlohmann::json given = without_empty(call.body);
  const RecordAsked asked = record_given(Given(given, wrong));
  if (wrong) return problem_reply(*wrong);
  const auto batch = batch_asked(bench, asked.batch, PlanAge::at_hand);
  if (!batch) return problem_reply(batch.problem());
  const auto answer = record_given_readings(batch.value(), asked);
  return answer ? json_reply(answer.value()) : problem_reply(answer.problem());
}

EntryChange change_given(const Given& body) {
  EntryChange c;
  c.id = body.whole("id", 1, INT64_MAX);
  c.value = body.text_if("value").value_or("");
  c.withdraw = !body.has("value");
  c.inches = body.flag_or("inches", false);
  c.by = body.text_if("by").value_or("");
  c.note = body.text_if("note").value_or("");
  c.once = true;
  body.only({"batch", "id", "value", "inches", "by", "note"});
  return c;
}

Result<Json> change_answer(const BatchAsked& batch, const EntryChange& change) {
  const auto changed = change_entry(*batch.plan, batch.ledger, change);
  if (!changed) {
    Problem problem = for_the_page(changed.problem());
    if (problem.code == "unknown_entry") problem.where = "id";
    if (problem.code == "impossible_value") problem.where = "value";
    return problem;
  }
  const Recorded& recorded = changed.value().recorded;
  auto told = recorded_on_the_page(recorded);
  if (!told) return told.problem();
  Json out = told.take();
  const RecordedEntry& e = recorded.entries.front();
  out["changed"] = {{"id", changed.value().reading},
                    {"entry", e.stored.id},
                    {"was_there", e.stored.was_there},
                    {"value_mm", e.value ? Json(to_mm(*e.value).v) : Json(nullptr)},
                    {"at", e.stored.at}};
  return out;
}

Reply change_reply(Workbench& bench, const Call& call) {
  std::optional<Problem> wrong;
  const Given named(call.body, wrong);
  // An empty text is no way to withdraw a reading: that has to be said, by null.
  if (call.body.is_object() && !call.body.contains("value"))
    named.report("value", "missing_key", "give the value that the reading should have been, or null to withdraw it");
  const nlohmann::json given = [&] {
    nlohmann::json j = without_empty(call.body);
    if (call.body.is_object() && call.body.contains("value")) j["value"] = call.body["value"];
    return j;
  }();
  const Given body(given, wrong);
  const std::string name = body.text("batch");
  const EntryChange change = change_given(body);
  if (wrong) return problem_reply(*wrong);
  const auto batch = batch_asked(bench, name, PlanAge::at_hand);
  if (!batch) return problem_reply(batch.problem());
  const auto answer = change_answer(batch.value(), change);
  return answer ? json_reply(answer.value()) : problem_reply(answer.problem());
}

// Which readings are asked for. Of one size: a stop, or a width.
struct ReadingsAsked {
  std::string set_up, find;
  int stop = 0, width = 0;
  bool is_asked(const StopPlace& p) const {
    if (width > 0) return p.side == width;
    return stop == 0 || (p.side == 0 && p.number() == stop);
  }
};

Result<ReadingsAsked> readings_asked(const Call& call) {
  const auto stop = number_asked(call, "stop", 1, 1000, 0), width = number_asked(call, "width", 1, 2, 0);
  if (!stop) return stop.problem();
  if (!width) return width.problem();
  if (stop.value() > 0 && width.value() > 0)
    return Problem{"wrong_type", "width", "either a stop or a width is asked for, not both", ""};
  return ReadingsAsked{call.asked("setup"), call.asked("find"), stop.value(), width.value()};
}

Result<LedgerHistory> history_of(const BatchAsked& batch, const ReadingsAsked& asked) {
  auto found = history_answer(*batch.plan, batch.ledger, asked.set_up, asked.stop);
  if (!found) return for_the_page(found.problem());
  LedgerHistory history = found.take();
  std::erase_if(history.stops, [&](const StopReadings& s) { return !asked.is_asked(s.place); });
  return history;
}

std::string lower_case(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

bool speaks_of(const Json& reading, const std::string& find) {
  for (const char* key : {"stick", "wood", "by", "note", "instrument"})
    if (lower_case(reading.at(key).get<std::string>()).find(find) != std::string::npos) return true;
  const Json& changes = reading.at("changes");
  return std::any_of(changes.begin(), changes.end(), [&](const Json& c) {
    return lower_case(c.at("by").get<std::string>()).find(find) != std::string::npos ||
           lower_case(c.at("note").get<std::string>()).find(find) != std::string::npos;
  });
}

// Only the lists are shortened; the numbers stay those of all readings.
void keep_found(Json& stop, const std::string& find) {
  for (const char* list : {"readings", "not_counted"}) {
    Json kept = Json::array();
    for (const Json& reading : stop[list])
      if (speaks_of(reading, find)) kept.push_back(reading);
    stop[list] = kept;
  }
}

// Every place that was asked for, in the order of the plan; those without readings, too.
Result<std::vector<StopPlace>> places_shown(const BatchPlan& plan, const ReadingsAsked& asked) {
  std::vector<StopPlace> out = all_places(plan);
  if (!asked.set_up.empty()) {
    const auto set_up = find_set_up(plan, asked.set_up);
    if (!set_up) return for_the_page(set_up.problem());
    std::erase_if(out, [&](const StopPlace& p) { return p.set_up != set_up.value(); });
  }
  std::erase_if(out, [&](const StopPlace& p) { return !asked.is_asked(p); });
  return out;
}

Result<Json> readings_answer(const BatchAsked& batch, const ReadingsAsked& asked) {
  const auto history = history_of(batch, asked);
  if (!history) return history.problem();
  const auto places = places_shown(*batch.plan, asked);
  if (!places) return places.problem();
  const auto now = readings_now(batch, places.value());
  if (!now) return now.problem();
  Json out = {{"batch", batch.name}, {"batch_name", batch.plan->batch.name}, {"ledger", nullptr}, {"says", ""}};
  if (batch.has_ledger()) out["ledger"] = ledger_path(batch.name).generic_string();
  const bool any = std::any_of(now.value().begin(), now.value().end(), [](const auto& s) { return !s.kept.empty(); });
  out["says"] = any ? "" : "No readings yet.";
  out["find"] = asked.find;
  out["stops"] = Json::array();
  for (const StopReadings& s : now.value()) {
    out["stops"].push_back(stop_on_the_page(s));
    if (!asked.find.empty()) keep_found(out["stops"].back(), lower_case(asked.find));
  }
  out["no_longer_planned"] = history_json(*batch.plan, history.value())["no_longer_planned"];
  return out;
}

Reply readings_reply(Workbench& bench, const Call& call) {
  const auto asked = readings_asked(call);
  if (!asked) return problem_reply(asked.problem());
  const auto batch = batch_asked(bench, call.asked("batch"), PlanAge::at_hand);
  if (!batch) return problem_reply(batch.problem());
  const auto answer = readings_answer(batch.value(), asked.value());
  return answer ? json_reply(answer.value()) : problem_reply(answer.problem());
}

// A name for the file that no browser minds.
std::string table_name(const std::string& batch) {
  std::string stem = std::filesystem::path(batch).stem().string();
  for (char& c : stem)
    if (!std::isalnum(static_cast<unsigned char>(c)) && c != '-' && c != '_') c = '-';
  return stem + "-readings.csv";
}

Reply table_reply(Workbench& bench, const Call& call) {
  const auto asked = readings_asked(call);
  if (!asked) return problem_reply(asked.problem());
  const auto batch = batch_asked(bench, call.asked("batch"), PlanAge::at_hand);
  if (!batch) return problem_reply(batch.problem());
  const auto history = history_of(batch.value(), asked.value());
  if (!history) return problem_reply(history.problem());
  return {
      .status = 200,
      .type = "text/csv; charset=utf-8",
      .body = history_csv(history.value()),
      .headers = {{"Content-Disposition", fmt::format("attachment; filename=\"{}\"", table_name(batch.value().name))}}};
}

Json leaves_json(const std::vector<KeptLeaf>& leaves) {
  Json out = Json::array();
  for (const KeptLeaf& k : leaves)
    out.push_back({{"id", k.id},
                   {"at", k.at},
                   {"by", k.leaf.by},
                   {"note", k.leaf.note},
                   {"withdrawn", k.withdrawn},
                   {"setup", k.leaf.set_up},
                   {"stop", k.leaf.stop},
                   {"thickness_mm", to_mm(k.leaf.thickness).v}});
  return out;
}

Result<Json> events_answer(const BatchAsked& batch) {
  Json out = {{"batch", batch.name}, {"truings", Json::array()}, {"leaves", Json::array()}};
  if (!batch.has_ledger()) return out;
  auto opened = Ledger::open(batch.ledger);
  if (!opened) return opened.problem();
  Ledger ledger = opened.take();
  const auto truings = ledger.truings();
  if (!truings) return truings.problem();
  const auto leaves = ledger.leaves_applied();
  if (!leaves) return leaves.problem();
  out["truings"] = truings_json(truings.value());
  out["leaves"] = leaves_json(leaves.value());
  return out;
}

Reply events_reply(Workbench& bench, const Call& call) {
  const auto batch = batch_asked(bench, call.asked("batch"), PlanAge::at_hand);
  if (!batch) return problem_reply(batch.problem());
  const auto answer = events_answer(batch.value());
  return answer ? json_reply(answer.value()) : problem_reply(answer.problem());
}

}  // namespace

std::vector<Route> ledger_routes() {
  return {{"POST", "/api/record", record_reply},
          {"POST", "/api/record/change", change_reply},
          {"GET", "/api/readings", readings_reply},
          {"GET", "/api/readings.csv", table_reply},
          {"GET", "/api/ledger/events", events_reply}};
}

}  // namespace stickwright
