#include "sorting/model.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace stickwright {
namespace {

constexpr double kNeverPlayed = -std::numeric_limits<double>::infinity();
constexpr double kSameCut = 1e-12;      // relative
constexpr double kConcaveSlack = 1e-6;  // mm: an oracle that solves a linear program rounds

double value_of(const PlayCut& cut, const std::vector<std::vector<double>>& off) {
  double v = cut.constant;
  for (std::size_t p = 0; p < off.size(); ++p)
    for (std::size_t i = 0; i < off[p].size(); ++i) v += cut.slope[p][i] * off[p][i];
  return v;
}

bool is_near(double a, double b) {
  return std::abs(a - b) <= kSameCut * (1 + std::abs(a));
}

bool is_same(const PlayCut& a, const PlayCut& b) {
  if (!is_near(a.constant, b.constant)) return false;
  for (std::size_t p = 0; p < a.slope.size(); ++p)
    if (!std::equal(a.slope[p].begin(), a.slope[p].end(), b.slope[p].begin(), is_near)) return false;
  return true;
}

}  // namespace

SortModel::SortModel(const SortProblem& p) : problem(p) {
  std::map<std::pair<int, std::vector<double>>, std::vector<int>> merged;
  for (std::size_t i = 0; i < p.items.size(); ++i)
    merged[{p.items[i].kind, p.items[i].off}].push_back(static_cast<int>(i));
  for (auto& [key, items] : merged) {
    of_kind[key.first].push_back(static_cast<int>(classes.size()));
    classes.push_back({key.first, key.second, std::move(items)});
  }
  for (std::size_t d = 0; d < p.designs.size(); ++d)
    design_of.insert(design_of.end(), static_cast<std::size_t>(p.designs[d].puzzles), static_cast<int>(d));
}

KnownPlays::KnownPlays(const SortModel& model) : model_(model), known_(model.problem.designs.size()) {
  for (std::size_t d = 0; d < known_.size(); ++d)
    known_[d].adds.assign(model.design(d).places.size(), std::vector<std::vector<double>>(model.classes.size()));
}

double KnownPlays::play(std::size_t design, const Filled& filled) {
  const auto seen = known_[design].played.find(filled);
  if (seen != known_[design].played.end()) return seen->second;
  std::vector<std::vector<double>> off;
  for (int c : filled) off.push_back(model_.classes[static_cast<std::size_t>(c)].off);
  const double v = play_at(design, off);
  if (!problem_) known_[design].played[filled] = v;
  return v;
}

double KnownPlays::play_at(std::size_t design, const std::vector<std::vector<double>>& off) {
  if (problem_) return kNeverPlayed;
  const SortDesign& asked = model_.design(design);
  ++calls_;
  PlayCut cut = asked.play(off);
  double v = kNeverPlayed;
  if (is_sound(asked, cut)) v = value_of(cut, off);
  if (!std::isfinite(v)) {
    problem_ =
        Problem{"bad_play", asked.name,
                "the play must come as a finite constant and one finite slope for each deviation of each place.", ""};
    return kNeverPlayed;
  }
  for (const PlayCut& k : known_[design].cut)
    if (const double above = v - value_of(k, off); above > kConcaveSlack * std::max(1.0, std::abs(v))) {
      problem_ = Problem{
          "bad_play", asked.name,
          fmt::format("a play of {:.6f} mm lies {:.6f} mm above an earlier cut, so the play is not concave.", v, above),
          ""};
      return kNeverPlayed;
    }
  keep(design, std::move(cut));
  return v;
}

double KnownPlays::most(std::size_t design, const Filled& filled) const {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t j = 0; j < cuts(design); ++j) {
    double v = constant(design, j);
    for (std::size_t p = 0; p < filled.size(); ++p) v += adds(design, p, filled[p])[j];
    least = std::min(least, v);
  }
  return least;
}

bool KnownPlays::is_sound(const SortDesign& design, const PlayCut& cut) const {
  if (!std::isfinite(cut.constant) || cut.slope.size() != design.places.size()) return false;
  for (std::size_t p = 0; p < design.places.size(); ++p) {
    const int any = model_.classes_for(design.places[p]).front();
    if (cut.slope[p].size() != model_.classes[static_cast<std::size_t>(any)].off.size()) return false;
    for (double s : cut.slope[p])
      if (!std::isfinite(s)) return false;
  }
  return true;
}

void KnownPlays::keep(std::size_t design, PlayCut cut) {
  Known& known = known_[design];
  for (const PlayCut& k : known.cut)
    if (is_same(k, cut)) return;
  largest_ = std::max(largest_, std::abs(cut.constant));
  for (std::size_t p = 0; p < known.adds.size(); ++p)
    for (int c : model_.classes_for(model_.design(design).places[p])) {
      const std::vector<double>& off = model_.classes[static_cast<std::size_t>(c)].off;
      double v = 0;
      for (std::size_t i = 0; i < off.size(); ++i) v += cut.slope[p][i] * off[i];
      known.adds[p][static_cast<std::size_t>(c)].push_back(v);
      largest_ = std::max(largest_, std::abs(v));
    }
  known.cut.push_back(std::move(cut));
}

}  // namespace stickwright
