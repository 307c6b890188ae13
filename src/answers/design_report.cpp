#include "answers/design_report.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <cmath>

namespace stickwright {
namespace {

std::string assemblies_line(const Assemblies& a) {
  if (a.verdict == Verdict::none_exists) return "It does not go together: all placements have been tried.";
  return fmt::format("It goes together in {}, counted up to the rotations of the goal.", ways_in_words(a));
}

// Of several assemblies, how many come apart.
std::string reachable_line(const DesignPlan& plan) {
  const Reachable& r = plan.reachable;
  if (plan.assemblies.count < 2) return "";
  std::string out = fmt::format("Of {} that {} looked into, {} {} apart", r.checked, r.checked == 1 ? "was" : "were",
                                r.reachable, r.reachable == 1 ? "comes" : "come");
  if (r.reachable > 0)
    out += r.shortest == r.longest
               ? fmt::format(", in {} steps", r.shortest)
               : fmt::format(", in {} to {} steps; below, one with the fewest", r.shortest, r.longest);
  if (r.stopped_at) out += fmt::format(". The search was stopped at assembly {}", *r.stopped_at + 1);
  return out + ".\n";
}

std::vector<std::string> names(const DesignPlan& plan, const std::vector<int>& pieces) {
  std::vector<std::string> out;
  for (int i : pieces) out.push_back(plan.standing[i].name);
  return out;
}

std::string times_in_words(const Reach& r) {
  return r.top % r.bottom == 0 ? fmt::format("{}", r.top / r.bottom) : fmt::format("{}/{}", r.top, r.bottom);
}

std::string vec_in_words(Vec v) {
  return fmt::format("({}, {}, {})", v.x, v.y, v.z);
}

std::string step_line(const DesignPlan& plan, std::size_t number) {
  const Step& s = plan.take_apart.steps[number];
  const Handling& h = plan.handling[number];
  const std::string how_far = s.distance.free() ? "out" : fmt::format("by {} times that", times_in_words(s.distance));
  std::string also;
  for (const Glide& g : s.also)
    also += fmt::format(", and at the same time {} towards {}", fmt::join(names(plan, g.pieces), ", "),
                        vec_in_words(g.direction));
  const std::string like = h.like ? fmt::format("As step {}{}: s", *h.like + 1, h.mirrored ? ", mirrored" : "") : "S";
  return fmt::format("  {:2}. {}lide {} towards {}{}, {}; hold {}.\n", number + 1, like,
                     fmt::join(names(plan, s.moves), ", "), vec_in_words(s.direction), also, how_far,
                     fmt::join(names(plan, s.from), ", "));
}

// What the hands do, where two are not enough.
std::string hands_line(const DesignPlan& plan, std::size_t number) {
  const Handling& h = plan.handling[number];
  if (h.hands < 3 || h.like) return "";
  std::string out = "      ";
  if (plan.take_apart.steps[number].hands() > 2)
    out += fmt::format("{} groups move at once. ", plan.take_apart.steps[number].hands());
  if (!h.falls.empty())
    out += fmt::format("Held by {} only, {} would slip, even with {} down, where the least does: a third hand. ",
                       fmt::join(names(plan, h.grips), " and "), fmt::join(names(plan, h.falls), ", "),
                       vec_in_words(*h.down));
  out.back() = '\n';
  return out;
}

}  // namespace

std::string check_report(const DesignPlan& plan) {
  std::string out = fmt::format(
      "{}: {} pieces, {} cells, {} family\n", plan.design.name,
      [&] {
        int n = 0;
        for (const MadePiece& m : plan.made) n += m.copies;
        return n;
      }(),
      plan.design.goal.size(), plan.design.family->name());
  for (const MadePiece& m : plan.made)
    out += fmt::format("  {} x {}: {} cells{}\n", m.copies, m.name, m.cells.size(),
                       handed(*plan.design.family, shape_of(*plan.design.family, m.cells).shape) ? ", handed" : "");
  if (!unfilled_in_words(plan.supplied).empty()) return out + why_not(plan) + "\n";
  out += assemblies_line(plan.assemblies) + "\n";
  out += reachable_line(plan);
  if (plan.turning) out += turning_in_words(*plan.turning) + "\n";
  if (!plan.works()) return out + why_not(plan) + "\n";
  out += fmt::format("It comes apart in {} {}, {} to the first parting:\n", plan.take_apart.steps.size(),
                     plan.take_apart.steps.size() == 1 ? "step" : "steps", plan.take_apart.moves_to_first);
  for (std::size_t i = 0; i < plan.take_apart.steps.size(); ++i) out += step_line(plan, i) + hands_line(plan, i);
  return out;
}

std::string blocks_report(const std::vector<MadePiece>& made, const Split& split, std::size_t first) {
  std::string out;
  for (std::size_t i = 0; i < made.size(); ++i) {
    const GlueUp& g = split.pieces[first + i];
    out += fmt::format("{} x {}: {} {}\n", made[i].copies, made[i].name, g.blocks.size(),
                       g.blocks.size() == 1 ? "block" : "blocks");
    for (std::size_t b = 0; b < g.blocks.size(); ++b)
      out += fmt::format("  {}. {}, {} cells, grain along {}\n", b + 1, split.shapes[g.blocks[b].shape].full_name(),
                         g.blocks[b].cells.size(), static_cast<char>('x' + g.blocks[b].grain_axis));
    for (const Joint& j : g.joints)
      out += fmt::format("  glue {} to {}: {:.4f} square units ({:.4f} s^2)\n", j.a + 1, j.b + 1, j.area_units(),
                         j.area_units() / 2);
  }
  if (split.verdict == Verdict::stopped)
    out += "The comparison of ways to split was stopped: a better split may be possible.\n";
  return out;
}

}  // namespace stickwright
