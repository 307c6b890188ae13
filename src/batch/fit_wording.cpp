#include "batch/fit_wording.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "batch/fit_inputs.h"

namespace stickwright {
namespace {

constexpr double kTold = 0.001;       // mm: smaller allowances round to nothing
constexpr double kNoForce = 1e-6;     // of all force: rounding
constexpr double kLeastShare = 0.05;  // sources and contacts with less are not told first

std::string shape_name(const BatchPlan& plan, const PuzzleFit& p, int block) {
  const int shape = p.closed.blocks[static_cast<std::size_t>(block)].shape;
  return plan.split.shapes[static_cast<std::size_t>(shape)].full_name();
}

std::string mm(double v) {
  return fmt::format("{:.3f}", std::abs(v) < 0.0005 ? 0.0 : v);
}

std::string play_sentence(const PuzzleFit& p) {
  const PlaySpread& s = p.planned;
  return fmt::format(
      "As planned, {} close by hand. The one in the middle has {} mm of play; nine in ten have {} to {} mm.{}",
      share_in_words(s.closes), mm(s.median), mm(s.p05), mm(s.p95),
      s.median < 0 ? " Below 0 the joints press against each other." : "");
}

std::string then_sentence(const PlaySpread& s, const PlayAsked& asked) {
  return fmt::format("then {} close, and {} have the {} to {} mm that are asked for", share_in_words(s.closes),
                     share_in_words(s.within), mm(asked.window.least), mm(asked.window.most));
}

// Whether test blocks in the ledger say where the stop stands.
bool was_read(const BatchPlan& plan, const FitPlan& fit, const Dimension& size) {
  return std::any_of(fit.read.begin(), fit.read.end(), [&](const StopAsRead& r) {
    return plan.set_ups[r.set_up].shape == size.shape && static_cast<int>(r.stop) == size.stop;
  });
}

std::string advice_sentence(const BatchPlan& plan, const FitPlan& fit, const PuzzleFit& p) {
  const PlayAsked& asked = fit.asked;
  std::vector<std::string> changes;
  for (std::size_t d = 0; d < p.sizes.size(); ++d)
    if (std::abs(p.allowances.mm[d]) >= kTold)
      changes.push_back(allowance_in_words(p.sizes[d], p.allowances.mm[d]) +
                        (was_read(plan, fit, p.sizes[d]) ? " of where its test blocks say that it stands" : ""));
  const std::string wanted = fmt::format("For {} mm of play in the middle puzzle", mm(asked.play));
  switch (p.allowances.verdict) {
    case AllowanceVerdict::out_of_reach:
      return fmt::format(
          "{} no stop and no width of stick within {} mm will do: look at the glue lines and at how the "
          "pieces are split into blocks.",
          wanted, kMostAllowance);
    case AllowanceVerdict::stopped:
      return fmt::format("{} no settings were found: the search did not settle.", wanted);
    case AllowanceVerdict::never_binds:
      return "";
    case AllowanceVerdict::found:
    case AllowanceVerdict::sticks_needed:
      break;
  }
  if (changes.empty()) return fmt::format("{} nothing has to be set otherwise.", wanted);
  return fmt::format("{} {}: {}.", wanted, fmt::join(changes, " and "), then_sentence(p.advised, asked));
}

std::string sources_sentence(const Contributions& c) {
  std::vector<std::string> of;
  double told = 0;
  for (const Contribution& one : c.of) {
    if (one.share < kLeastShare) break;
    of.push_back(fmt::format("{} {:.0f} %", one.source, 100 * one.share));
    told += one.share;
  }
  if (of.empty()) return "";
  return fmt::format("How much play it will be is uncertain by: {}; all else {:.0f} %.", fmt::join(of, ", "),
                     100 * std::max(0.0, 1 - told));
}

std::string needed_sentence(const BatchPlan& plan, const PlayAsked& asked, const PuzzleFit& p) {
  const std::string chance = fmt::format("{:g} of 100", 100 * asked.chance);
  if (!p.tolerances.reachable)
    return fmt::format(
        "Even with exact stops {} would close, fewer than the {} asked for: the stops are not what it "
        "takes.",
        share_in_words(p.tolerances.closes), chance);
  std::vector<std::string> each;
  for (const NeededTolerance& n : p.tolerances.needed)
    each.push_back(n.tolerance_mm >= kLooseTolerance
                       ? fmt::format("{} +- {} mm or more",
                                     plan.split.shapes[static_cast<std::size_t>(n.shape)].full_name(), kLooseTolerance)
                       : fmt::format("{} +- {} mm", plan.split.shapes[static_cast<std::size_t>(n.shape)].full_name(),
                                     mm(n.tolerance_mm)));
  return fmt::format("For {} to close, the stops must stand to: {}.", chance, fmt::join(each, ", "));
}

// Which kind of block presses on which, and how much of all force goes there.
std::map<std::string, double> force_by_kind(const BatchPlan& plan, const PuzzleFit& p) {
  std::map<std::string, double> out;
  for (const ContactFit& c : p.tight.contacts) {
    const BlockContact& at = p.contacts[static_cast<std::size_t>(c.contact)];
    std::vector<std::string> kinds;
    for (int b : {at.from, at.to}) kinds.push_back(shape_name(plan, p, b));
    std::sort(kinds.begin(), kinds.end());
    if (c.pressed > kNoForce) out[fmt::format("{} on {}", kinds[0], kinds[1])] += c.pressed;
  }
  return out;
}

std::string tight_sentence(const BatchPlan& plan, const PuzzleFit& p) {
  std::vector<std::string> of;
  for (const auto& [kind, force] : force_by_kind(plan, p))
    if (force >= kLeastShare) of.push_back(fmt::format("{} ({:.0f} % of the force)", kind, 100 * force));
  const auto binding = std::count_if(p.tight.contacts.begin(), p.tight.contacts.end(),
                                     [](const ContactFit& c) { return c.pressed > kNoForce; });
  return fmt::format("What would bind first in the middle puzzle are {} of its {} contacts, all together: {}.", binding,
                     p.contacts.size(), fmt::join(of, "; "));
}

std::string sliding_sentence(const PuzzleFit& p) {
  const SlidingStep* worst = nullptr;
  for (const SlidingStep& s : p.sliding)
    if (s.binds &&
        (!worst || std::pair(s.slides.share, s.median_mm) < std::pair(worst->slides.share, worst->median_mm)))
      worst = &s;
  if (!worst) return "On the way out nothing can bind: once started, every step only opens its contacts.";
  return fmt::format("On the way out step {} is the tightest: {} slide by hand there; the middle one has {} mm.",
                     worst - p.sliding.data() + 1, share_in_words(worst->slides), mm(worst->median_mm));
}

std::string open_sentence(const OpenJoints& open) {
  return fmt::format(
      "Pushed together as well as it goes, the widest joint seen from outside is {} mm in the middle "
      "puzzle, at most {} mm in nineteen of twenty.",
      mm(open.median_mm), mm(open.p95_mm));
}

// The play that would have to be asked for so that as many as should close do so in the tightest month, too. What is
// added to the play of one month is added to that of all. Nothing where not even the play asked for now can be had.
std::string year_advice(const PlayAsked& asked, const PuzzleFit& p, const MonthFit& tight) {
  if (tight.closes.share >= asked.chance || !p.allowances.reached()) return "";
  const double more = p.allowances.median_mm + asked.window.closes_from - tight.at_chance;
  const double rounded_up = std::ceil(more / kTold) * kTold;
  return fmt::format(" For {:g} of 100 to close then, too, ask for {} mm of play{}.", 100 * asked.chance,
                     mm(rounded_up),
                     rounded_up > asked.window.most
                         ? fmt::format(", and for a most_play beyond the {} mm of now", mm(asked.window.most))
                         : "");
}

std::string year_sentence(const PlayAsked& asked, const PuzzleFit& p) {
  const YearFit& y = *p.year;
  const MonthFit &tight = y.months[y.tightest], &loose = y.months[y.loosest];
  if (loose.median - tight.median < kTold)
    return fmt::format("At the customer's the middle puzzle has {} mm of play all year, and {} close.{}",
                       mm(tight.median), share_in_words(tight.closes), year_advice(asked, p, tight));
  return fmt::format(
      "At the customer's it is tightest at the end of {} ({} mm in the middle puzzle, {} close) and "
      "loosest at the end of {} ({} mm).{}",
      month_name(y.tightest), mm(tight.median), share_in_words(tight.closes), month_name(y.loosest), mm(loose.median),
      year_advice(asked, p, tight));
}

std::string edges_sentence(const BatchPlan& plan) {
  const double off = eased(plan.batch.shop).v;
  if (off < kTold) return "Edges that only touch are not looked at: where none is eased, they can run into each other.";
  return fmt::format("Edges that only touch are not looked at: counted on is that {} mm are taken off every sharp one.",
                     mm(off));
}

std::string assumed_sentence(const BatchPlan& plan, const PlayAsked& asked) {
  std::vector<std::string> what = assumed_of(plan.batch);
  const FitAsked& said = plan.batch.fit;
  if (!said.play) what.push_back(fmt::format("a wanted play of {} mm", mm(asked.play)));
  if (!said.least_play || !said.most_play)
    what.push_back(fmt::format("{} to {} mm as what passes", mm(asked.window.least), mm(asked.window.most)));
  if (!said.chance) what.push_back(fmt::format("{:g} of 100 that should close", 100 * asked.chance));
  if (what.empty()) return "";
  return fmt::format("Guessed, since the files do not say: {}.", fmt::join(what, ", "));
}

}  // namespace

const char* to_string(AllowanceVerdict v) {
  switch (v) {
    case AllowanceVerdict::found:
      return "found";
    case AllowanceVerdict::sticks_needed:
      return "sticks too";
    case AllowanceVerdict::out_of_reach:
      return "out of reach";
    case AllowanceVerdict::stopped:
      return "stopped";
    case AllowanceVerdict::never_binds:
      break;
  }
  return "never binds";
}

std::size_t tightest_puzzle(const FitPlan& fit) {
  const auto closes = [](const PuzzleFit& p) { return p.binds ? p.planned.closes.share : 2.0; };
  const auto at = std::min_element(fit.puzzles.begin(), fit.puzzles.end(),
                                   [&](const PuzzleFit& a, const PuzzleFit& b) { return closes(a) < closes(b); });
  return static_cast<std::size_t>(at - fit.puzzles.begin());
}

std::string share_in_words(const ShareFound& s) {
  if (s.share >= 0.9995) return "practically all of them";
  if (s.share <= 0.0005) return "hardly any of them";
  return fmt::format("{:.{}f} of 100", 100 * s.share, s.share > 0.99 || s.share < 0.01 ? 1 : 0);
}

std::string contact_in_words(const BatchPlan& plan, const PuzzleFit& p, int contact) {
  const BlockContact& c = p.contacts[static_cast<std::size_t>(contact)];
  const auto side = [&](int b) {
    const StandingBlock& block = p.closed.blocks[static_cast<std::size_t>(b)];
    return fmt::format("{} ({})", p.closed.pieces[static_cast<std::size_t>(block.piece)].name, shape_name(plan, p, b));
  };
  return fmt::format("{} on {}", side(c.from), side(c.to));
}

std::string allowance_in_words(const Dimension& size, double by) {
  const bool stop = size.size_of == SizeOf::stop;
  return fmt::format("{} {} {} mm {}", stop ? "set" : "plane", size.name, mm(std::abs(by)),
                     stop ? (by < 0 ? "short" : "long") : (by < 0 ? "thinner" : "thicker"));
}

std::string month_name(std::size_t month) {
  static constexpr std::array<const char*, 12> kNames = {"January",   "February", "March",    "April",
                                                         "May",       "June",     "July",     "August",
                                                         "September", "October",  "November", "December"};
  return kNames[month];
}

std::vector<std::string> fit_in_words(const BatchPlan& plan, const FitPlan& fit, const PuzzleFit& p) {
  std::vector<std::string> out;
  const auto say = [&](std::string sentence) {
    if (!sentence.empty()) out.push_back(std::move(sentence));
  };
  if (p.closed.pieces.size() == 1) return {"It is a single piece: there is nothing to close."};
  if (!p.binds) {
    say("Its contacts cannot jam: whatever is off, all pieces can move apart a little at once, so it always goes "
        "together. What is off shows as open joints instead.");
    if (p.open) say(open_sentence(*p.open));
    say(sliding_sentence(p));
    say(edges_sentence(plan));
    return out;
  }
  say(play_sentence(p));
  say(advice_sentence(plan, fit, p));
  say(sources_sentence(p.contributions));
  say(needed_sentence(plan, fit.asked, p));
  say(tight_sentence(plan, p));
  if (p.open) say(open_sentence(*p.open));
  say(sliding_sentence(p));
  if (p.year) say(year_sentence(fit.asked, p));
  say(edges_sentence(plan));
  say(assumed_sentence(plan, fit.asked));
  return out;
}

}  // namespace stickwright
