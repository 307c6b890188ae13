#include <cmath>
#include <nlohmann/json.hpp>

#include "answers/stop_readings.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Json number_or_null(const std::optional<double>& x) {
  return x && std::isfinite(*x) ? Json(*x) : Json(nullptr);
}

Json changes_json(const KeptReading& k) {
  Json out = Json::array();
  for (const Change& c : k.changes) {
    Json change = {{"id", c.id}, {"at", c.at}, {"value_mm", nullptr}, {"by", c.by}, {"note", c.note}};
    if (c.value) change["value_mm"] = to_mm(*c.value).v;
    out.push_back(change);
  }
  return out;
}

Json reading_json(const KeptReading& k) {
  const Reading& r = k.reading;
  Json out = {{"id", k.id}, {"value_mm", nullptr}, {"at", k.at}};
  if (const auto value = k.value()) out["value_mm"] = to_mm(*value).v;
  out["taken_at"] = r.taken_at.empty() ? Json(nullptr) : Json(r.taken_at);
  out["block"] = r.block > 0 ? Json(r.block) : Json(nullptr);
  out["stick"] = r.stick;
  out["wood"] = r.wood;
  out["instrument"] = r.instrument;
  out["by"] = r.by;
  out["entered"] = to_string(r.entered);
  out["note"] = r.note;
  out["first_value_mm"] = to_mm(r.value).v;
  out["changes"] = changes_json(k);
  return out;
}

Json signals_json(const RunReport& report, ReadingOf of) {
  Json out = Json::array();
  for (const Signal& s : report.signals) {
    const Cause cause = usual_cause(s, of);
    out.push_back({{"rule", to_string(s.rule)},
                   {"first", s.first},
                   {"last", s.last},
                   {"side", s.high ? "high" : "low"},
                   {"says", signal_in_words(s)},
                   {"means", cause.meaning},
                   {"check", cause.check}});
  }
  return out;
}

Json limits_json(const RunReport& r) {
  if (!r.chart) return nullptr;
  return {{"center", r.chart->center},
          {"lower", r.chart->lower},
          {"upper", r.chart->upper},
          {"sigma", r.chart->sigma},
          {"moving_range_mean", r.chart->mean_moving_range},
          {"moving_range_upper", r.chart->moving_range_upper}};
}

Json capability_json(const RunReport& r) {
  if (!r.capability) return nullptr;
  const Capability& c = *r.capability;
  return {{"cp", c.cp},        {"cpk", c.cpk}, {"u_cpk", c.u_cpk},
          {"pp", c.pp},        {"ppk", c.ppk}, {"share_outside", c.share_outside},
          {"enough", c.enough}};
}

Json drift_json(const RunReport& r) {
  if (!r.drift) return nullptr;
  return {{"slope_mm_per_reading", r.drift->slope},
          {"u_slope_mm_per_reading", r.drift->u_slope},
          {"t", number_or_null(r.drift->t)},
          {"p", r.drift->p},
          {"moving_average_mm", r.average->z.back()},
          {"moving_average_lower_mm", r.average->lower},
          {"moving_average_upper_mm", r.average->upper}};
}

}  // namespace

Json stop_readings_json(const StopReadings& s) {
  Json out = {{"setup", s.place.id}, {"stop", nullptr}, {"width", nullptr}, {"unit", "mm"}};
  if (s.place.side > 0)
    out["width"] = s.place.side;
  else
    out["stop"] = s.place.number();
  out["target_mm"] = s.wanted.size;
  out["tolerance_mm"] = s.wanted.tolerance;
  out["verdict"] = to_string(s.report.advice);
  out["reason"] = s.report.reason;
  out["mean"] = number_or_null(s.report.mean);
  out["sd"] = number_or_null(s.report.sd);
  out["outside"] = s.report.outside;
  out["limits"] = limits_json(s.report);
  out["signals"] = signals_json(s.report, s.wanted.of);
  out["capability"] = capability_json(s.report);
  out["drift"] = drift_json(s.report);
  out["readings"] = Json::array();
  for (const std::size_t k : s.standing) out["readings"].push_back(reading_json(s.kept[k]));
  out["not_counted"] = Json::array();
  for (std::size_t i = 0, k = 0; i < s.kept.size(); ++i) {
    const bool counts = k < s.standing.size() && s.standing[k] == i;
    if (counts)
      ++k;
    else
      out["not_counted"].push_back(reading_json(s.kept[i]));
  }
  out["leaves"] = Json::array();
  for (const KeptLeaf& l : s.leaves)
    out["leaves"].push_back({{"id", l.id}, {"at", l.at}, {"thickness_mm", to_mm(l.leaf.thickness).v}});
  return out;
}

}  // namespace stickwright
