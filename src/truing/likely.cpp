#include "truing/likely.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

namespace stickwright {
namespace {

using Numbers = std::vector<double>;

// One thing that is uncertain by itself, and how far, one standard deviation, it takes each of the tests.
struct Source {
  CauseGroup cause;
  Numbers reach;
  bool lasts = false;  // of the first test's stop: not by chance each time
  bool kink = false;   // what the mean slope does not see of a number
};

// By the name of the state's number.
CauseGroup cause_of(const std::string& name) {
  if (name == "miter") return CauseGroup::miter;
  if (name.starts_with("stick")) return CauseGroup::stick;
  if (name.starts_with("cradle") || name == "blade tilt" || name == "clamp force") return CauseGroup::cradle;
  return name.starts_with("seating") ? CauseGroup::reading : CauseGroup::rest;
}

// Stick and seating are other ones at each test, and so is a second stop that it is made with.
bool is_shared(const std::string& name) {
  return !name.starts_with("stick") && !name.starts_with("seating") && !name.starts_with("stop");
}

struct Sources {
  std::vector<Source> all;
  std::map<std::string, std::size_t> shared;  // index in all
  std::size_t tests = 0;

  void add(CauseGroup cause, std::size_t test, double reach, bool lasts = false, bool kink = false) {
    if (reach == 0) return;
    all.push_back({cause, Numbers(tests, 0), lasts, kink});
    all.back().reach[test] = reach;
  }
  void add_shared(const std::string& name, std::size_t test, double reach) {
    const auto [at, added] = shared.try_emplace(name, all.size());
    if (added) all.push_back({cause_of(name), Numbers(tests, 0)});
    all[at->second].reach[test] = reach;
  }
};

void add_influence(Sources& sources, const Influence& i, std::size_t test, double share_of_chance) {
  const std::string& name = i.parameter.name;
  const CauseGroup cause = cause_of(name);
  if (!is_shared(name))
    return sources.add(cause, test, i.reach() * (cause == CauseGroup::reading ? share_of_chance : 1));
  const double straight = i.slope.mean() * i.known.u;
  sources.add_shared(name, test, straight);
  sources.add(cause, test, std::sqrt(std::max(0.0, i.reach() * i.reach() - straight * straight)), false, true);
}

// What the kinks make of it in truth is known where saws were drawn: whatever the mean slopes leave of the spread.
//   u_in_truth  of a single reading
void scale_kinks(Sources& sources, std::size_t test, double u_in_truth, int readings) {
  double straight = 0, kinks = 0;
  for (const Source& s : sources.all)
    (s.kink ? kinks : straight) += s.reach[test] * s.reach[test] * (s.cause == CauseGroup::reading ? readings : 1);
  if (kinks == 0) return;
  const double scale = std::sqrt(std::max(0.0, u_in_truth * u_in_truth - straight) / kinks);
  for (Source& s : sources.all)
    if (s.kink) s.reach[test] *= scale;
}

Sources sources_of(std::span<const Measured> measured) {
  Sources sources;
  sources.tests = measured.size();
  for (std::size_t j = 0; j < measured.size(); ++j) {
    const Prediction& p = *measured[j].prediction;
    const double share_of_chance = 1 / std::sqrt(static_cast<double>(measured[j].readings));
    for (const Influence& i : p.influences)
      if (i.parameter.name != p.stop_name) add_influence(sources, i, j, share_of_chance);
    for (const BudgetInput& part : p.stop_parts)
      sources.add(CauseGroup::stop, j, p.per_stop * part.sensitivity * part.input.u, part.name != kPushedHome);
    sources.add(CauseGroup::reading, j, p.reading.u * share_of_chance);
    if (p.sampled) scale_kinks(sources, j, p.sampled->u, measured[j].readings);
  }
  return sources;
}

double dot(const Numbers& x, const Numbers& y) {
  double sum = 0;
  for (std::size_t i = 0; i < x.size(); ++i) sum += x[i] * y[i];
  return sum;
}

// How the tests vary together, by all that is uncertain.
std::vector<Numbers> covariance_of(const Sources& s) {
  constexpr double kLeast = 1e-12;  // mm^2: a test is never exact
  std::vector<Numbers> c(s.tests, Numbers(s.tests, 0));
  for (std::size_t i = 0; i < s.tests; ++i) {
    c[i][i] = kLeast;
    for (std::size_t j = 0; j < s.tests; ++j)
      for (const Source& source : s.all) c[i][j] += source.reach[i] * source.reach[j];
  }
  return c;
}

// c x = right, c symmetric and positive definite, so that elimination needs no search for pivots.
Numbers solved(std::vector<Numbers> c, Numbers right) {
  const std::size_t n = right.size();
  for (std::size_t k = 0; k < n; ++k)
    for (std::size_t i = k + 1; i < n; ++i) {
      const double factor = c[i][k] / c[k][k];
      for (std::size_t j = k; j < n; ++j) c[i][j] -= factor * c[k][j];
      right[i] -= factor * right[k];
    }
  for (std::size_t k = n; k-- > 0;) {
    for (std::size_t j = k + 1; j < n; ++j) right[k] -= c[k][j] * right[j];
    right[k] /= c[k][k];
  }
  return right;
}

double deviation_of(const Measured& m) {
  return m.mean_mm - m.prediction->expected().v;
}

// What remains uncertain in the first test of a sum of sources.
template <class Is>
double u_after(const Sources& sources, const std::vector<Numbers>& covariance, const Is& is) {
  double before = 0;
  Numbers with_tests(sources.tests, 0);
  for (const Source& s : sources.all) {
    if (!is(s)) continue;
    before += s.reach[0] * s.reach[0];
    for (std::size_t j = 0; j < sources.tests; ++j) with_tests[j] += s.reach[0] * s.reach[j];
  }
  return std::sqrt(std::max(0.0, before - dot(with_tests, solved(covariance, with_tests))));
}

// Of the first test: what its stop's error would be if nothing else were off. The test block is to have its nominal
// size, whatever the saw as it is known would give.
void add_alone(Likely& out, const Sources& sources, const Measured& first) {
  double others = 0;
  for (const Source& s : sources.all)
    if (s.cause != CauseGroup::stop) others += s.reach[0] * s.reach[0];
  const double per_stop = first.prediction->per_stop;
  out.alone = (first.mean_mm - first.prediction->nominal.v) / per_stop;
  out.u_alone = std::sqrt(others) / std::abs(per_stop);
}

}  // namespace

const char* to_string(CauseGroup cause) {
  constexpr std::array kNames = {"stop", "miter", "stick", "cradle and blade", "seating and reading", "the rest"};
  return kNames[static_cast<std::size_t>(cause)];
}

Likely likely_causes(std::span<const Measured> measured) {
  const Measured& first = measured.front();
  const Sources sources = sources_of(measured);
  const std::vector<Numbers> covariance = covariance_of(sources);
  Numbers deviation;
  for (const Measured& m : measured) deviation.push_back(deviation_of(m));
  const Numbers pull = solved(covariance, deviation);
  const double per_stop = first.prediction->per_stop;
  const double known = first.prediction->stop_known();  // which the prediction has in it already
  Likely out;
  out.stop = out.lasting = known;
  for (const Source& s : sources.all) {
    const double share = s.reach[0] * dot(s.reach, pull);
    out.mm[static_cast<std::size_t>(s.cause)] += share;
    if (s.cause == CauseGroup::stop) out.stop += share / per_stop;
    if (s.lasts) out.lasting += share / per_stop;
  }
  out.u_miter = u_after(sources, covariance, [](const Source& s) { return s.cause == CauseGroup::miter; });
  out.u_stop =
      u_after(sources, covariance, [](const Source& s) { return s.cause == CauseGroup::stop; }) / std::abs(per_stop);
  add_alone(out, sources, first);
  return out;
}

}  // namespace stickwright
