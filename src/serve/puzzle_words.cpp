#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "serve/first_look.h"
#include "serve/puzzle_answer.h"

namespace stickwright {
namespace {

std::string names(const DesignPlan& plan, const std::vector<int>& pieces) {
  std::vector<std::string> all;
  for (int i : pieces) all.push_back(plan.standing[static_cast<std::size_t>(i)].name);
  if (all.size() < 2) return fmt::format("{}", fmt::join(all, ""));
  const std::string last = all.back();
  all.pop_back();
  return fmt::format("{} and {}", fmt::join(all, ", "), last);
}

std::string ways_sentence(const DesignPlan& plan) {
  const Assemblies& a = plan.assemblies;
  const std::string ways = fmt::format("It goes together in {}{} {}", a.verdict == Verdict::stopped ? "at least " : "",
                                       a.count, a.count == 1 ? "way" : "ways");
  return ways + (a.verdict == Verdict::stopped ? "; there may be more, the search stopped early."
                                               : ", the whole turned in the hand not counted again.");
}

std::string reachable_sentence(const DesignPlan& plan) {
  const Reachable& r = plan.reachable;
  if (plan.assemblies.count < 2) return "";
  if (r.checked < plan.assemblies.count)
    return fmt::format("Of these, {} {} looked into, and {} {} apart.", r.checked, r.checked == 1 ? "was" : "were",
                       r.reachable, r.reachable == 1 ? "comes" : "come");
  return fmt::format("Of these, {} {} apart.", r.reachable, r.reachable == 1 ? "comes" : "come");
}

std::string apart_sentence(const DesignPlan& plan) {
  const TakeApart& t = plan.take_apart;
  const auto steps = [](std::size_t n) { return fmt::format("{} {}", n, n == 1 ? "step" : "steps"); };
  std::string out = fmt::format("It comes apart in {}; the first pieces are free after {}", steps(t.steps.size()),
                                steps(static_cast<std::size_t>(t.moves_to_first)));
  return out +
         (t.fewest ? ". No way with two hands has fewer steps." : ". A way with fewer steps in all is not ruled out.");
}

std::string hands_sentence(const DesignPlan& plan) {
  int hands = 2;
  for (const Handling& h : plan.handling) hands = std::max(hands, h.hands);
  if (plan.take_apart.coordinated()) return fmt::format("Some step needs {} groups that move at one time.", hands);
  return hands == 2 ? "Two hands are enough." : "Some step needs a third hand, or a table: a piece slips otherwise.";
}

// What is left open, and where a longer search is.
std::string stopped_sentence(const DesignPlan& plan) {
  constexpr const char* kLonger = "\"All assemblies\" searches for as long as you let it.";
  if (nothing_yet(plan))
    return fmt::format(
        "The search stopped early, after {} choices: whether it goes together is not known yet. {}",
        plan.assemblies.nodes, kLonger);
  if (!plan.works())
    return fmt::format("The search stopped early: whether it comes apart is not known yet. {}", kLonger);
  return plan.assemblies.verdict == Verdict::stopped ? kLonger : "";
}

}  // namespace

std::string step_in_words(const DesignPlan& plan, std::size_t k) {
  const Step& s = plan.take_apart.steps[k];
  const Handling& h = plan.handling[k];
  const bool one = s.moves.size() == 1;
  std::string out = fmt::format("{} {}{}", names(plan, s.moves), one ? "slides" : "slide together",
                                s.distance.free() ? " out of the puzzle" : ", without coming free");
  for (const Glide& g : s.also)
    out += fmt::format("; at the same time {} {} the other way", names(plan, g.pieces),
                       g.pieces.size() == 1 ? "goes" : "go");
  out += fmt::format("; hold {}.", names(plan, s.from));
  if (h.like) out += fmt::format(" As step {}{}.", *h.like + 1, h.mirrored ? ", mirrored" : "");
  if (!h.falls.empty())
    out +=
        fmt::format(" Mind {}: held so, {} slip.", names(plan, h.falls), h.falls.size() == 1 ? "it may" : "they may");
  return out;
}

std::vector<std::string> puzzle_in_words(const DesignPlan& plan) {
  std::vector<std::string> out;
  if (plan.goes_together()) out.push_back(ways_sentence(plan));
  if (plan.goes_together()) out.push_back(reachable_sentence(plan));
  if (plan.works()) {
    out.push_back(apart_sentence(plan));
    out.push_back("First, " + step_in_words(plan, 0));
    out.push_back(hands_sentence(plan));
  } else if (!plan.stopped()) {
    out.push_back(why_not(plan));
  }
  if (plan.stopped()) out.push_back(stopped_sentence(plan));
  if (plan.turning) out.push_back(turning_in_words(*plan.turning));
  std::erase(out, "");
  return out;
}

}  // namespace stickwright
