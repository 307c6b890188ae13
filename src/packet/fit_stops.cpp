#include "packet/fit_stops.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "packet/fit_view.h"

namespace stickwright {
namespace {

// What one puzzle wants of the stop; nothing when the stop is none of its own.
std::optional<double> wanted_by(const PuzzleFit& p, int shape, std::size_t stop) {
  for (std::size_t d = 0; d < p.sizes.size(); ++d)
    if (p.sizes[d].shape == shape && p.sizes[d].stop == static_cast<int>(stop) && d < p.allowances.mm.size())
      return p.allowances.mm[d];
  return {};
}

struct Wanting {
  std::string puzzle;
  double mm = 0;
  bool sticks = false;  // they are to have another width, too
};

bool other_sticks(const PuzzleFit& p) {
  for (std::size_t d = 0; d < p.sizes.size(); ++d)
    if (p.sizes[d].size_of != SizeOf::stop && std::abs(p.allowances.mm[d]) >= kLeastTold) return true;
  return false;
}

std::vector<Wanting> wants_of(const FullPlan& plan, int shape, std::size_t stop) {
  std::vector<Wanting> out;
  for (const PuzzleFit& p : plan.fit.puzzles)
    if (const auto mm = wanted_by(p, shape, stop); mm && p.binds)
      out.push_back({plan.batch.puzzles[p.puzzle].design.design.name, *mm, other_sticks(p)});
  return out;
}

// How far off the stop stands, where test blocks in the ledger say so.
std::optional<double> read_of(const FullPlan& plan, int shape, std::size_t stop) {
  for (const StopAsRead& r : plan.fit.read)
    if (plan.batch.set_ups[r.set_up].shape == shape && r.stop == stop) return r.error.value;
  return {};
}

// With sticks of another width the test block changes by more than its stop does.
std::string set_in_words(const Wanting& w, const TestPlan& t, std::optional<double> stands) {
  if (std::abs(w.mm) < kLeastTold) return "leave this stop as it is";
  const std::string set =
      fmt::format("set this stop {} {}{}", small_length(std::abs(w.mm)), w.mm < 0 ? "short" : "long",
                  stands ? " of where its test blocks say that it stands" : "");
  if (w.sticks) return set + ", together with the sticks of another width that the sheet of the fit asks for";
  return set + fmt::format("; its test block then measures {:.3f} mm",
                           t.test.across_flats.v + (w.mm + stands.value_or(0)) * t.test.per_stop);
}

// A stop that is set short comes nearer to the blade than the card's own distance, which kept the sled's closest_stop.
std::string nearer_in_words(const std::vector<Wanting>& wants) {
  const bool nearer = std::any_of(wants.begin(), wants.end(), [](const Wanting& w) { return w.mm <= -kLeastTold; });
  return nearer ? " Set short it stands nearer to the blade: saw unplugged, turn the blade past it by hand first." : "";
}

}  // namespace

std::string needed_in_words(const FullPlan& plan, const SetUp& s, std::size_t k) {
  const auto needed = needed_tolerance(plan.fit, s.shape);
  if (!needed || needed->v >= kLooseTolerance) return "";
  const double own = plan.batch.batch.tolerance.v, flats = needed->v * std::abs(s.tests[k].test.per_stop);
  return fmt::format("So that the puzzles close the stop must stand to ± {}, which is ± {} across flats: {}",
                     small_length(needed->v), small_length(flats),
                     flats < own ? fmt::format("stricter than the ± {:.3f} mm above, keep to it.", own)
                                 : fmt::format("the ± {:.3f} mm above is stricter.", own));
}

std::string allowance_on_card(const FullPlan& plan, const SetUp& s, std::size_t k) {
  const std::vector<Wanting> wants = wants_of(plan, s.shape, k);
  if (std::none_of(wants.begin(), wants.end(), [](const Wanting& w) { return std::abs(w.mm) >= kLeastTold; }))
    return "";
  const bool alike = std::all_of(wants.begin(), wants.end(),
                                 [&](const Wanting& w) { return std::abs(w.mm - wants.front().mm) < kLeastTold; });
  const std::string head = fmt::format("Asked play {:.3f} mm: ", plan.fit.asked.play);
  const std::string nearer = nearer_in_words(wants);
  const std::optional<double> stands = read_of(plan, s.shape, k);
  if (alike)
    return fmt::format("{}{}. The stack above and the box beside are without it.{}", head,
                       set_in_words(wants.front(), s.tests[k], stands), nearer);
  std::vector<std::string> each;
  for (const Wanting& w : wants)
    each.push_back(fmt::format("for the {} {}", w.puzzle, set_in_words(w, s.tests[k], stands)));
  return fmt::format(
      "{}{}. The stack above and the box beside are without it; saw the blocks of each puzzle by themselves, or choose "
      "one.{}",
      head, fmt::join(each, "; "), nearer);
}

}  // namespace stickwright
