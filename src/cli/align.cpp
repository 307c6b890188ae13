#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
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

constexpr double kDegreesPerRad = Angle::radians(1).deg();

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
  std::array<TurnMeans, 4> means;
  std::array<TurnBack, 4> turns;
};

// Readings that scatter so much more than their uncertainties say that it is chance in one of so many cases hold a
// mistake: our own choice.
constexpr double kMistake = 1e-3;

bool disagree(const Alignment& a) {
  return a.fit.birge && a.fit.chance < kMistake;
}

// The reading, from 0, that lies farthest from what all of them together say.
std::size_t farthest(const Alignment& a, std::size_t readings) {
  std::size_t worst = 0;
  for (std::size_t k = 1; k < readings; ++k)
    if (std::abs(a.fit.standardized[k]) > std::abs(a.fit.standardized[worst])) worst = k;
  return worst;
}

// What goes wrong with such a reading first. Common practice, no source.
const char* usual_slip(Look look) {
  if (sign_of_square(look) != 0) return "on which side was the light?";
  if (look == Look::bar || look == Look::flanks) return "which side was higher?";
  return "was it the right line, and the right unit?";
}

std::string disagreement(const Alignment& a, std::span<const Observation> readings) {
  const std::size_t k = farthest(a, readings.size());
  return fmt::format(
      "The readings contradict each other: they lie {:.0f} times as far apart as their uncertainties allow. Look first "
      "at "
      "number {}, {}: {} Read again before you put a leaf in.",
      *a.fit.birge, k + 1, name_of(readings[k]), usual_slip(readings[k].look));
}

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
  j["contradict"] = disagree(a.found);
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
  for (std::size_t i : t.shim.leaves) sizes.push_back(fmt::format("{:g}", to_mm(leaves[i].thickness).v));
  return fmt::format("{} of {} mm", sizes.size() == 1 ? "a leaf" : "leaves", fmt::join(sizes, " + "));
}

// What the error looks like at the saw.
const char* looks_like(Error e, bool positive) {
  switch (e) {
    case Error::miter:
      return positive ? "two opposite miters make a point that is too wide"
                      : "two opposite miters make a point that is too sharp";
    case Error::tilt:
      return positive ? "the blade's top leans over to the stop" : "the blade's top leans away from the stop";
    case Error::roll:
      return positive ? "the flank away from you is too high" : "the flank near you is too high";
    case Error::pitch:
      return positive ? "the cradle's end towards the blade is too high"
                      : "the cradle's end towards the blade is too low";
  }
  return "";
}

std::string what_to_do(const Answer& a, Error e, const std::vector<Leaf>& leaves) {
  const TurnBack& t = a.turns[static_cast<std::size_t>(e)];
  switch (t.advice) {
    case TurnAdvice::leaf:
      // Three leaves at most go on each other; what is far off is turned by hand first.
      if (t.remaining_rad / a.found[e].rad > 0.5)
        return "The leaves owned reach less than half of it: turn it back by hand, and read again.";
      return fmt::format("Put {} {}.", leaves_in_words(t, leaves), t.at);
    case TurnAdvice::leave:
      return fmt::format("Leave it: {}.", t.why);
    default:
      return fmt::format("Turn it back by hand: {}.", t.why);
  }
}

// In words, then in numbers.
std::string error_lines(const Answer& a, Error e, const std::vector<Leaf>& leaves) {
  const Found& f = a.found[e];
  const TurnBack& t = a.turns[static_cast<std::size_t>(e)];
  std::string out = fmt::format("{}: {}. {}\n", to_string(e), looks_like(e, f.rad > 0), what_to_do(a, e, leaves));
  out[0] = static_cast<char>(out[0] - 'a' + 'A');
  out += fmt::format("  {:+.4f} degrees, u = {:.4f} degrees", f.rad * kDegreesPerRad, f.u_rad * kDegreesPerRad);
  if (t.advice == TurnAdvice::leaf)
    out +=
        fmt::format("; with {} {:+.4f} degrees remain", leaves_in_words(t, leaves), t.remaining_rad * kDegreesPerRad);
  return out + ".\n";
}

bool is_one_error(const std::string& hidden) {
  return std::any_of(kErrors.begin(), kErrors.end(), [&](Error e) { return hidden == to_string(e); });
}

std::string unseen_lines(const Alignment& found) {
  std::vector<std::string> unseen;
  for (Error e : kErrors)
    if (!found[e].seen) unseen.push_back(to_string(e));
  if (unseen.empty()) return "";
  std::string out = fmt::format("These readings do not tell: {}.\n", fmt::join(unseen, ", "));
  for (const std::string& h : found.hidden)
    if (!is_one_error(h)) out += fmt::format("  Unseen together, since one makes up for the other: {}.\n", h);
  return out;
}

std::string answer_report(const Answer& a, const std::vector<Leaf>& leaves, std::span<const Observation> readings) {
  std::string out;
  if (disagree(a.found))
    out += disagreement(a.found, readings) + "\n";
  else if (const std::string note = birge_note(a.found.fit); !note.empty())
    out += note + "\n";
  for (Error e : kErrors)
    if (a.found[e].seen) out += error_lines(a, e, leaves);
  out += unseen_lines(a.found);
  out += fmt::format("The next reading that tells most: {}{}.\n", a.found.next,
                     a.found.next_shows_more ? "; it shows what is unseen now" : "");
  return out + "Unplug the saw before you touch the blade or a screw near it, and follow the machine's manual.\n";
}

// What is left when the advice is followed, and how well that is known: as the error was, and the leaf is.
Estimate left_over(const Answer& a, Error e) {
  Estimate left;
  const auto k = static_cast<std::size_t>(e);
  const TurnBack& t = a.turns[k];
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
  const TruingKnowledge known = truing_knowledge(shop, batch.value().stick);
  const std::vector<Leaf> leaves = leaves_of(shop);
  Answer a{align(readings.value(), known), turn_means(shop), {}};
  for (Error e : kErrors) {
    const auto k = static_cast<std::size_t>(e);
    a.turns[k] = advise_turn(a.found, e, a.means[k], leaves, readings.value(), known);
  }
  if (options.keep && disagree(a.found))
    return tell({"readings_contradict", "--keep", disagreement(a.found, readings.value()), ""});
  if (options.keep)
    if (auto problem = keep(options, a)) return tell(*problem);
  if (options.json)
    print_json(answer_json(a, leaves));
  else
    fmt::print("{}", answer_report(a, leaves, readings.value()));
  if (options.keep && !options.json)
    fmt::print("Written into {}: the saw as it is when this advice is followed.\n", ledger_path(options.file).string());
  return kDone;
}

}  // namespace stickwright
