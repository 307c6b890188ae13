#include <nlohmann/json.hpp>

#include "answers/truing_answer.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDegreesPerRad = Angle::radians(1).deg();

Json error_json(const TruingAnswer& a, Error e) {
  const Found& f = a.found[e];
  const TurnBack& t = a.turn(e);
  Json j = {{"error", to_string(e)}, {"seen", f.seen}};
  j["deg"] = f.seen ? Json(f.rad * kDegreesPerRad) : Json(nullptr);
  j["u_deg"] = f.seen ? Json(f.u_rad * kDegreesPerRad) : Json(nullptr);
  j["advice"] = to_string(t.advice);
  j["leaf_mm"] = t.advice == TurnAdvice::leaf ? to_mm(t.shim.total).v : 0;
  j["leaves_mm"] = Json::array();
  if (t.advice == TurnAdvice::leaf)
    for (std::size_t i : t.shim.leaves) j["leaves_mm"].push_back(to_mm(a.leaves[i].thickness).v);
  j["at"] = t.at;
  j["remaining_deg"] = f.seen ? Json(t.remaining_rad * kDegreesPerRad) : Json(nullptr);
  j["repeats"] = t.repeats ? Json(*t.repeats) : Json(nullptr);
  j["says"] = t.why;
  return j;
}

}  // namespace

Json truing_json(const TruingAnswer& a) {
  const Json miter = error_json(a, Error::miter);
  Json j = {{"miter_error_deg", miter["deg"]}, {"u_deg", miter["u_deg"]}, {"leaf_mm", miter["leaf_mm"]},
            {"leaves_mm", miter["leaves_mm"]}, {"at", miter["at"]},       {"remaining_deg", miter["remaining_deg"]},
            {"advice", miter["advice"]},       {"says", miter["says"]}};
  j["errors"] = Json::array();
  for (Error e : kErrors) j["errors"].push_back(error_json(a, e));
  j["cannot_tell_apart"] = a.found.hidden;
  j["next"] = {{"reading", a.found.next}, {"shows_more", a.found.next_shows_more}};
  j["contradict"] = readings_contradict(a);
  j["chi_square"] = a.found.fit.chi_square;
  j["freedom"] = a.found.fit.freedom;
  j["covariance"] = {{"unknowns", Json::array()}, {"rows", a.found.fit.covariance}};
  for (const Unknown& u : a.found.unknowns) j["covariance"]["unknowns"].push_back(u.name + " (" + u.unit + ")");
  j["residuals"] = Json::array();
  for (std::size_t k = 0; k < a.found.fit.residual.size(); ++k)
    j["residuals"].push_back({{"mm", a.found.fit.residual[k]}, {"standardized", a.found.fit.standardized[k]}});
  return j;
}

}  // namespace stickwright
