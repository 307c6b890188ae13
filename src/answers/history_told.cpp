#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "answers/history_answer.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

std::string quoted(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string out(1, '"');
  for (const char c : text) out.append(c == '"' ? 2 : 1, c);
  out += '"';
  return out;
}

std::string mm_or_nothing(std::optional<Nm> value) {
  return value ? fmt::format("{:.6f}", to_mm(*value).v) : "";
}

std::string or_nothing(int number) {
  return number > 0 ? std::to_string(number) : "";
}

}  // namespace

Json history_json(const BatchPlan& plan, const LedgerHistory& h) {
  Json out = {{"batch", plan.batch.name},
              {"ledger", h.ledger.empty() ? Json(nullptr) : Json(h.ledger.string())},
              {"stops", Json::array()}};
  for (const StopReadings& s : h.stops) out["stops"].push_back(stop_readings_json(s));
  if (h.stops.size() == 1) {
    const Json only = out["stops"][0];
    for (const auto& [key, value] : only.items()) out[key] = value;
  }
  out["no_longer_planned"] = Json::array();
  for (const GoneReadings& g : h.gone)
    out["no_longer_planned"].push_back({{"setup", g.set_up},
                                        {"stop", g.side > 0 ? Json(nullptr) : Json(g.stop)},
                                        {"width", g.side > 0 ? Json(g.side) : Json(nullptr)},
                                        {"readings", g.readings}});
  return out;
}

std::string history_csv(const LedgerHistory& h) {
  std::string out =
      "id,setup,stop,value_mm,first_value_mm,at,taken_at,stick,wood,instrument,by,entered,note,width,block\n";
  for (const StopReadings& s : h.stops)
    for (const KeptReading& k : s.kept) {
      const Reading& r = k.reading;
      out += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}\n", k.id, quoted(r.set_up), or_nothing(r.stop),
                         mm_or_nothing(k.value()), mm_or_nothing(r.value), k.at, r.taken_at, quoted(r.stick),
                         quoted(r.wood), quoted(r.instrument), quoted(r.by), to_string(r.entered), quoted(r.note),
                         or_nothing(r.side), or_nothing(r.block));
    }
  return out;
}

std::string history_report(const LedgerHistory& h) {
  std::string out;
  for (const StopReadings& s : h.stops)
    out.append(out.empty() ? "" : "\n").append(stop_readings_report(s)).append(text_chart(s));
  for (const GoneReadings& g : h.gone)
    out += fmt::format("{}, {} {}: {} reading{}; the batch no longer has this set-up. --csv does not print them.\n",
                       g.set_up, g.side > 0 ? "width" : "stop", g.side > 0 ? g.side : g.stop, g.readings,
                       g.readings == 1 ? "" : "s");
  return out.empty() ? "There are no readings of this yet.\n" : out;
}

}  // namespace stickwright
