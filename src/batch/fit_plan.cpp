#include "batch/fit_plan.h"

#include <algorithm>
#include <chrono>
#include <numbers>

#include "batch/fit_inputs.h"
#include "fit/season_plays.h"
#include "saw/forward.h"

namespace stickwright {
namespace {

constexpr std::uint64_t kSeed = 1;
// Puzzles drawn for each of many trials: a share is then known to about one in a hundred.
constexpr std::int64_t kTrial = 4'096, kFew = 1'024;
constexpr std::int64_t kPushed = 60;  // puzzles pushed together: each by the linear solver
constexpr int kBars = 40;

// A stop that is set short comes nearer to the blade: it must keep as clear of it as the shop asks for. A square stop's
// face reaches a unit nearer than its distance (saw/program.cpp).
double most_short(const BatchPlan& plan, const Dimension& stop) {
  const StopPlan& s = plan.set_ups[static_cast<std::size_t>(stop.shape)].stops[static_cast<std::size_t>(stop.stop)];
  const double corner = s.stop.face == StopFace::square ? unit_mm(plan.batch.stick) : 0;
  const double spare = s.distance.v - corner - std::numbers::sqrt2 * plan.batch.shop.sled.closest_stop.v;
  return std::clamp(spare, 0.0, kMostAllowance);
}

// Everything about one puzzle, step by step.
class PuzzleStudy {
 public:
  PuzzleStudy(const BatchPlan& plan, const ShopKnown& shop, const PlayAsked& asked, std::size_t k)
      : plan_(plan), puzzle_(plan.puzzles[k]), asked_(asked) {
    fit_.puzzle = k;
    fit_.closed = closed_puzzle(plan, puzzle_);
    fit_.contacts = block_contacts(fit_.closed);
    errors_ = puzzle_errors(fit_.closed, shop);
    gaps_ = gap_forms(fit_.closed, errors_.faces, fit_.contacts);
  }

  // Only how whole batches come out is asked of batches. All else is about one puzzle that might come out, so each is
  // drawn with a shop of its own: a few thousand of a large batch would be only a few shops.
  Result<PuzzleFit> run() {
    const PuzzlePlays plays(errors_, gaps_, 1, kSeed);
    fit_.binds = plays.program().can_bind();
    fit_.sizes = dimensions_of(errors_);
    for (Dimension& d : fit_.sizes)
      if (d.size_of == SizeOf::stop) d.most_short = most_short(plan_, d);
    const std::vector<double> none(fit_.sizes.size());
    fit_.allowances.mm = none;
    const std::vector<bool> seen = seen_rows();
    if (fit_.binds) {
      fit_.planned = spread(plays, none, asked_.samples);
      fit_.contributions = contributions(errors_, plays, kTrial);
      fit_.per_mm = median_slopes(plays, fit_.sizes, none, kTrial);
      fit_.allowances = allowances_for(errors_, gaps_, plays, fit_.sizes, asked_.play, kTrial);
      fit_.advised = spread(plays, fit_.allowances.mm, asked_.samples);
      fit_.planned.batch_closes = batches(plays, none);
      fit_.advised.batch_closes = batches(plays, fit_.allowances.mm);
      fit_.tolerances =
          tolerances_for(errors_, plays, fit_.sizes, fit_.allowances.mm, asked_.window, asked_.chance, kTrial);
      fit_.tight = tight_contacts(gaps_, seen, plays, added(plays), kFew);
    }
    if (std::find(seen.begin(), seen.end(), true) != seen.end())
      fit_.open = open_joints(gaps_, seen, plays, added(plays), kPushed);
    fit_.sliding = sliding_fit(fit_.closed, errors_, puzzle_.design.standing_cells(), puzzle_.design.take_apart.steps,
                               kSeed, fit_.sizes, fit_.allowances.mm, asked_.window, kFew);
    if (fit_.binds && plan_.batch.customer)
      if (auto problem = add_year(plays)) return *problem;
    return std::move(fit_);
  }

 private:
  // By row of the gaps.
  std::vector<bool> seen_rows() const {
    std::vector<bool> out;
    for (const auto& corners : seen_from_outside(fit_.closed, fit_.contacts))
      out.insert(out.end(), corners.begin(), corners.end());
    return out;
  }

  AlterBunch added(const PuzzlePlays& plays) const {
    return resized(fit_.sizes, fit_.allowances.mm, plays.draws().lanes());
  }

  PlaySpread spread(const PuzzlePlays& plays, const std::vector<double>& mm, std::int64_t samples) {
    PlayTally tally(asked_.window, 1);
    const PlayCounts counts = plays.run(
        samples, [&](std::uint64_t, std::span<const double> some) { tally.add(some); },
        resized(fit_.sizes, mm, plays.draws().lanes()));
    if (fit_.counts.samples == 0) fit_.counts = counts;
    return {tally.quantile(0.5), tally.quantile(0.05), tally.quantile(0.95), tally.quantile(1 - asked_.chance),
            tally.closes(),      tally.within(),       tally.batch_closes(), tally.bars(kBars)};
  }

  ShareFound batches(const PuzzlePlays& like, const std::vector<double>& mm) const {
    const PuzzlePlays plays(like, errors_, puzzle_.copies);
    PlayTally tally(asked_.window, puzzle_.copies);
    plays.run(
        asked_.samples, [&](std::uint64_t, std::span<const double> some) { tally.add(some); },
        resized(fit_.sizes, mm, plays.draws().lanes()));
    return tally.batch_closes();
  }

  std::optional<Problem> add_year(const PuzzlePlays& plays) {
    const Customer& customer = *plan_.batch.customer;
    YearFit year;
    year.at_making = moisture_at_making(plan_.batch.shop);
    year.lag_days = customer.finish_days.value_or(kFinishedLagDays);
    const auto moisture = moisture_over_year(customer.air, year.lag_days);
    if (!moisture) return moisture.problem();
    for (std::size_t m = 0; m < 12; ++m) {
      MonthFit& month = year.months[m];
      month.moisture = moisture.value()[m];
      const PuzzleErrors errors = swollen(errors_, month.moisture.wood - year.at_making);
      const PlaySpread s = spread(PuzzlePlays(plays, errors, 1), fit_.allowances.mm, kTrial);
      month.median = s.median, month.p05 = s.p05, month.at_chance = s.at_chance, month.closes = s.closes;
      if (month.median < year.months[year.tightest].median) year.tightest = m;
      if (month.median > year.months[year.loosest].median) year.loosest = m;
    }
    fit_.year = year;
    return {};
  }

  const BatchPlan& plan_;
  const PuzzlePlan& puzzle_;
  const PlayAsked& asked_;
  PuzzleErrors errors_;
  GapForms gaps_;
  PuzzleFit fit_;
};

}  // namespace

PlayAsked play_asked(const Batch& batch) {
  constexpr double kPlay = 0.05, kMost = 0.15;  // mm: our own guesses
  PlayAsked asked;
  asked.play = batch.fit.play ? batch.fit.play->v : kPlay;
  asked.window.closes_from = -hand_gives(batch.shop).v;
  asked.window.least = batch.fit.least_play ? batch.fit.least_play->v : 0;
  asked.window.most = batch.fit.most_play ? batch.fit.most_play->v : std::max(kMost, 2 * asked.play);
  asked.chance = batch.fit.chance.value_or(asked.chance);
  asked.samples = batch.fit.samples.value_or(asked.samples);
  return asked;
}

Result<FitPlan> plan_fit(const BatchPlan& plan, const std::filesystem::path& ledger) {
  const auto start = std::chrono::steady_clock::now();
  FitPlan out{play_asked(plan.batch), {}, {}, 0};
  auto read = stops_as_read(plan, ledger);
  if (!read) return read.problem();
  out.read = read.take();
  ShopKnown shop = shop_known(plan);
  for (const StopAsRead& r : out.read) shop.states[r.set_up].stop_error_mm[r.stop] = r.error;
  for (std::size_t k = 0; k < plan.puzzles.size(); ++k) {
    auto fit = PuzzleStudy(plan, shop, out.asked, k).run();
    if (!fit) return fit.problem();
    out.puzzles.push_back(fit.take());
  }
  out.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  return out;
}

std::optional<Mm> needed_tolerance(const FitPlan& fit, int shape) {
  std::optional<Mm> least;
  for (const PuzzleFit& p : fit.puzzles)
    for (const NeededTolerance& n : p.tolerances.needed)
      if (n.shape == shape && p.tolerances.reachable && (!least || n.tolerance_mm < least->v))
        least = Mm{n.tolerance_mm};
  return least;
}

}  // namespace stickwright
