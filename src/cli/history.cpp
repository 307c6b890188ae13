#include <fmt/core.h>

#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <tuple>

#include "answers/stop_readings.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "packet/control_chart_view.h"
#include "text/files.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;
namespace fs = std::filesystem;

struct Gone {
  std::string set_up;
  int stop = 1, side = 0;  // as Reading::stop, side
  std::size_t readings = 0;
};

struct History {
  std::vector<StopReadings> stops;  // those with readings, in the order of the plan
  std::vector<Gone> gone;           // readings of set-ups that the batch no longer has
};

// Which stops were asked for.
Result<std::vector<StopPlace>> places_asked(const Options& o, const BatchPlan& plan) {
  std::vector<StopPlace> out;
  std::string only;
  if (!o.set_up.empty()) {
    const auto place = find_stop(plan, o.set_up, o.stop);
    if (!place) return place.problem();
    only = place.value().id;
  }
  for (const StopPlace& p : all_places(plan))
    if ((only.empty() || p.id == only) && (o.stop == 0 || p.number() == o.stop)) out.push_back(p);
  return out;
}

std::vector<Gone> readings_of_no_stop(const std::vector<KeptReading>& kept, const BatchPlan& plan) {
  using Size = std::tuple<std::string, int, int>;
  std::set<Size> known;
  for (const StopPlace& p : all_places(plan)) known.insert({p.id, p.number(), p.side});
  std::map<Size, std::size_t> counts;
  for (const KeptReading& k : kept) {
    const Size size{k.reading.set_up, k.reading.stop, k.reading.side};
    if (!known.contains(size)) ++counts[size];
  }
  std::vector<Gone> out;
  for (const auto& [size, count] : counts)
    out.push_back({std::get<0>(size), std::get<1>(size), std::get<2>(size), count});
  return out;
}

Result<History> look_up(const Options& o, Ledger& ledger, const BatchPlan& plan) {
  const auto places = places_asked(o, plan);
  if (!places) return places.problem();
  History h;
  for (const StopPlace& p : places.value()) {
    auto s = readings_at(ledger, plan, p);
    if (!s) return s.problem();
    if (!s.value().kept.empty()) h.stops.push_back(s.take());
  }
  if (!o.set_up.empty()) return h;
  const auto all = ledger.readings();
  if (!all) return all.problem();
  h.gone = readings_of_no_stop(all.value(), plan);
  return h;
}

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

std::string csv_of(const History& h) {
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

// Of one stop alone its keys stand at the head as well, so that a script that asked for it need not look further.
Json json_of(const History& h, const BatchPlan& plan, const fs::path& file) {
  Json out = {{"batch", plan.batch.name}, {"ledger", file.string()}, {"stops", Json::array()}};
  for (const StopReadings& s : h.stops) out["stops"].push_back(stop_readings_json(s));
  if (h.stops.size() == 1) {
    const Json only = out["stops"][0];
    for (const auto& [key, value] : only.items()) out[key] = value;
  }
  out["no_longer_planned"] = Json::array();
  for (const Gone& g : h.gone)
    out["no_longer_planned"].push_back({{"setup", g.set_up},
                                        {"stop", g.side > 0 ? Json(nullptr) : Json(g.stop)},
                                        {"width", g.side > 0 ? Json(g.side) : Json(nullptr)},
                                        {"readings", g.readings}});
  return out;
}

std::string page_of(const History& h) {
  std::string out;
  for (const StopReadings& s : h.stops)
    out.append(out.empty() ? "" : "\n").append(stop_readings_report(s)).append(text_chart(s));
  for (const Gone& g : h.gone)
    out += fmt::format("{}, {} {}: {} reading{}; the batch no longer has this set-up. --csv does not print them.\n",
                       g.set_up, g.side > 0 ? "width" : "stop", g.side > 0 ? g.side : g.stop, g.readings,
                       g.readings == 1 ? "" : "s");
  return out.empty() ? "There are no readings of this yet.\n" : out;
}

ControlChartView chart_of(const StopReadings& s, const BatchPlan& plan) {
  ControlChartView view;
  view.title = fmt::format("{}, {}", s.place.name, s.place.size());
  view.subtitle = fmt::format("{}; {}", plan.batch.name, advice_line(s));
  view.readings = s.all_mm();
  view.wanted = s.wanted;
  view.report = s.report;
  view.date = s.kept.empty() ? "" : s.kept.back().at.substr(0, 19);
  return view;
}

// One SVG and one PDF for each stop.   returns  their names
Result<std::vector<std::string>> write_charts(const History& h, const BatchPlan& plan, const fs::path& folder) {
  std::vector<std::string> names;
  for (const StopReadings& s : h.stops) {
    if (s.report.readings < 2) continue;
    for (const Drawing drawing : {Drawing::svg, Drawing::pdf}) {
      const fs::path file = folder / fmt::format("{}-{}-{}.{}", s.place.id, s.place.side > 0 ? "width" : "stop",
                                                 s.place.side > 0 ? s.place.side : s.place.number(),
                                                 drawing == Drawing::svg ? "svg" : "pdf");
      const auto bytes = control_chart_drawing(chart_of(s, plan), drawing);
      if (!bytes) return bytes.problem();
      if (auto written = write_file(file, bytes.value()); !written) return written.problem();
      names.push_back(file.string());
    }
  }
  return names;
}

int no_ledger(const Options& o, const BatchPlan& plan, const fs::path& file) {
  if (o.json)
    print_json({{"batch", plan.batch.name},
                {"ledger", nullptr},
                {"stops", Json::array()},
                {"no_longer_planned", Json::array()}});
  else if (!o.as_csv)
    fmt::print(
        "Nothing has been recorded for this batch yet. `stickwright record {} --setup ID READING ...` begins its "
        "ledger, {}.\n",
        o.file, file.string());
  return kDone;
}

}  // namespace

int history_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  const fs::path file = ledger_path(options.file);
  if (const auto places = places_asked(options, plan.value()); !places) return tell(places.problem());
  std::error_code error;
  if (!fs::exists(file, error)) return no_ledger(options, plan.value(), file);
  auto opened = Ledger::open(file);
  if (!opened) return tell(opened.problem());
  Ledger ledger = opened.take();
  const auto history = look_up(options, ledger, plan.value());
  if (!history) return tell(history.problem());
  std::vector<std::string> written;
  if (!options.chart.empty()) {
    const auto names = write_charts(history.value(), plan.value(), options.chart);
    if (!names) return tell(names.problem());
    written = names.value();
  }
  if (options.json) {
    print_json(json_of(history.value(), plan.value(), file));
    return kDone;
  }
  fmt::print("{}", options.as_csv ? csv_of(history.value()) : page_of(history.value()));
  for (const std::string& name : written) fmt::print(options.as_csv ? stderr : stdout, "Written: {}\n", name);
  return kDone;
}

}  // namespace stickwright
