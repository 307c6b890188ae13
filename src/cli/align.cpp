#include <fmt/core.h>
#include <fmt/ranges.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "batch/truing_file.h"
#include "batch/truing_means.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "ledger/ledger.h"
#include "shop/batch.h"
#include "truing/turn.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDegreesPerRad = 180 / 3.14159265358979323846;

Problem bad_option(const char* option, const std::string& say) {
  return {"bad_option", option, say, ""};
}

Result<Mm> option_length(const char* option, const std::string& text, double least, double most) {
  const auto length = parse_length(text);
  if (!length) return bad_option(option, length.problem().say);
  if (length.value().v < least || length.value().v > most)
    return bad_option(option, fmt::format("expected {:g} to {:g} mm, found \"{}\"", least, most, text));
  return length.value();
}

// The gaps given on the command line: two opposite miters against a square.
Result<std::vector<Observation>> gaps_given(const Options& o, const Caliper& caliper) {
  std::vector<Observation> out;
  if (o.gaps.empty()) return out;
  if (o.over.empty()) return bad_option("--over", "say at which length of arm the gap is, such as --over \"60 mm\"");
  const auto over = option_length("--over", o.over, 5, 1000);
  if (!over) return over.problem();
  Mm u = usual_u(Look::point, caliper);
  if (!o.gap_u.empty()) {
    const auto given = option_length("--u", o.gap_u, 1e-4, 1);
    if (!given) return given.problem();
    u = given.value();
  }
  if (o.light != "tip" && o.light != "ends")
    return bad_option("--light", fmt::format("expected tip or ends, found \"{}\"", o.light));
  for (const std::string& text : o.gaps) {
    const auto gap = option_length("--gap", text, 0, 5);
    if (!gap) return gap.problem();
    out.push_back({Look::point, 0, Mm{o.light == "tip" ? gap.value().v : -gap.value().v}, over.value(), u});
  }
  return out;
}

Result<std::vector<Observation>> observations(const Options& o, const Caliper& caliper) {
  auto gaps = gaps_given(o, caliper);
  if (!gaps) return gaps.problem();
  std::vector<Observation> all = gaps.take();
  if (!o.readings.empty()) {
    const auto file = load_truing_readings(o.readings, caliper);
    if (!file) return file.problem();
    all.insert(all.end(), file.value().begin(), file.value().end());
  }
  if (all.empty())
    return bad_option("--gap", "nothing was read: give --gap and --over, or --readings FILE (docs/files.md)");
  return all;
}

struct Answer {
  Alignment found;
  std::array<TurnBack, 4> turns;
};

Json error_json(const Answer& a, Error e, const std::vector<Leaf>& leaves) {
  const Found& f = a.found[e];
  const TurnBack& t = a.turns[static_cast<std::size_t>(e)];
  Json j = {{"error", to_string(e)}, {"seen", f.seen}};
  j["deg"] = f.seen ? Json(f.rad * kDegreesPerRad) : Json(nullptr);
  j["u_deg"] = f.seen ? Json(f.u_rad * kDegreesPerRad) : Json(nullptr);
  j["advice"] = to_string(t.advice);
  j["leaf_mm"] = t.advice == TurnAdvice::leaf ? to_mm(t.shim.total).v : 0;
  j["leaves_mm"] = Json::array();
  if (t.advice == TurnAdvice::leaf)
    for (std::size_t i : t.shim.leaves) j["leaves_mm"].push_back(to_mm(leaves[i].thickness).v);
  j["at"] = t.at;
  j["remaining_deg"] = f.seen ? Json(t.remaining_rad * kDegreesPerRad) : Json(nullptr);
  j["repeats"] = t.repeats ? Json(*t.repeats) : Json(nullptr);
  j["says"] = t.why;
  return j;
}

Json answer_json(const Answer& a, const std::vector<Leaf>& leaves) {
  const Json miter = error_json(a, Error::miter, leaves);
  Json j = {{"miter_error_deg", miter["deg"]}, {"u_deg", miter["u_deg"]}, {"leaf_mm", miter["leaf_mm"]},
            {"leaves_mm", miter["leaves_mm"]}, {"at", miter["at"]},       {"remaining_deg", miter["remaining_deg"]},
            {"advice", miter["advice"]},       {"says", miter["says"]}};
  j["errors"] = Json::array();
  for (Error e : kErrors) j["errors"].push_back(error_json(a, e, leaves));
  j["cannot_tell_apart"] = a.found.hidden;
  j["next"] = {{"reading", a.found.next}, {"shows_more", a.found.next_shows_more}};
  j["chi_square"] = a.found.fit.chi_square;
  j["freedom"] = a.found.fit.freedom;
  j["covariance"] = {{"unknowns", Json::array()}, {"rows", a.found.fit.covariance}};
  for (const Unknown& u : a.found.unknowns) j["covariance"]["unknowns"].push_back(u.name + " (" + u.unit + ")");
  j["residuals"] = Json::array();
  for (std::size_t k = 0; k < a.found.fit.residual.size(); ++k)
    j["residuals"].push_back({{"mm", a.found.fit.residual[k]}, {"standardized", a.found.fit.standardized[k]}});
  return j;
}

std::string leaves_in_words(const TurnBack& t, const std::vector<Leaf>& leaves) {
  std::vector<std::string> sizes;
  for (std::size_t i : t.shim.leaves) sizes.push_back(fmt::format("{:.2f}", to_mm(leaves[i].thickness).v));
  return fmt::format("{} mm", fmt::join(sizes, " + "));
}

std::string error_line(const Answer& a, Error e, const std::vector<Leaf>& leaves) {
  const Found& f = a.found[e];
  const TurnBack& t = a.turns[static_cast<std::size_t>(e)];
  if (!f.seen) return fmt::format("{}: not seen, the readings do not tell it.\n", to_string(e));
  std::string out =
      fmt::format("{}: {:+.4f} degrees, u = {:.4f}. ", to_string(e), f.rad * kDegreesPerRad, f.u_rad * kDegreesPerRad);
  switch (t.advice) {
    case TurnAdvice::leaf:
      return out + fmt::format("A leaf of {} {}; {:+.4f} degrees remain.\n", leaves_in_words(t, leaves), t.at,
                               t.remaining_rad * kDegreesPerRad);
    case TurnAdvice::leave:
      return out + fmt::format("Leave it: {}.\n", t.why);
    default:
      return out + fmt::format("{}.\n", t.why);
  }
}

std::string answer_report(const Answer& a, const std::vector<Leaf>& leaves) {
  std::string out;
  for (Error e : kErrors) out += error_line(a, e, leaves);
  if (!a.found.hidden.empty()) out += "Not to be told apart by these readings:\n";
  for (const std::string& h : a.found.hidden) out += "  " + h + "\n";
  out += fmt::format("The next reading that tells most: {}{}.\n", a.found.next,
                     a.found.next_shows_more ? "; it shows what is hidden now" : "");
  if (const std::string note = birge_note(a.found.fit); !note.empty()) out += note + "\n";
  out +=
      "Signs: a positive miter error makes the point wider than 90 degrees, a positive tilt leans the blade's top over "
      "to the stop, a positive roll raises the flank away from you, a positive pitch the end towards the blade.\n"
      "Unplug the saw before you touch the blade or a screw near it, and follow the machine's manual.\n";
  return out;
}

// What is left when the advice is followed.
Estimate left_over(const Answer& a, Error e) {
  Estimate left;
  const TurnBack& t = a.turns[static_cast<std::size_t>(e)];
  left.value = t.remaining_rad;
  left.u = t.u_remaining_rad;
  return left;
}

std::optional<Problem> keep(const Options& o, const Answer& a) {
  auto opened = Ledger::open(ledger_path(o.file));
  if (!opened) return opened.problem();
  Ledger ledger = opened.take();
  const auto stored = ledger.add_truing({left_over(a, Error::miter), left_over(a, Error::tilt),
                                         left_over(a, Error::roll), left_over(a, Error::pitch), o.by, o.note});
  if (!stored) return stored.problem();
  return {};
}

}  // namespace

int align_verb(const Options& options) {
  const auto batch = load_batch(options.file);
  if (!batch) return tell(batch.problem());
  const Shop& shop = batch.value().shop;
  const auto readings = observations(options, shop.caliper);
  if (!readings) return tell(readings.problem());
  const TruingKnowledge known = truing_knowledge(batch.value());
  const std::vector<Leaf> leaves = leaves_of(shop);
  Answer a{align(readings.value(), known), {}};
  const auto means = turn_means(shop);
  for (Error e : kErrors) {
    const auto k = static_cast<std::size_t>(e);
    a.turns[k] = advise_turn(a.found, e, means[k], leaves, readings.value(), known);
  }
  if (options.keep)
    if (auto problem = keep(options, a)) return tell(*problem);
  if (options.json)
    print_json(answer_json(a, leaves));
  else
    fmt::print("{}", answer_report(a, leaves));
  return kDone;
}

}  // namespace stickwright
