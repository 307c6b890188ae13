#include "batch/fit_plan.h"

#include <algorithm>
#include <chrono>

#include "batch/fit_inputs.h"
#include "fit/season_plays.h"

namespace stickwright {
namespace {

// Puzzles drawn for each of many trials: a share is then known to about one in a hundred.
constexpr std::int64_t kTrial = 4'096, kFew = 1'024;
constexpr std::int64_t kPushed = 60;  // puzzles pushed together: each by the linear solver

// How far one puzzle is, told as a share of all of them.
class StudyWatch {
 public:
  StudyWatch(const FitListener& listener, std::size_t puzzle, std::size_t puzzles, std::string name)
      : listener_(listener), puzzle_(puzzle), puzzles_(puzzles), name_(std::move(name)) {}

  bool go_on() const { return !listener_.cancelled || !listener_.cancelled(); }
  //   done, all   of the puzzle's own work, by about how many puzzles have to be drawn
  void tell(double done, double all, const std::string& what) const {
    if (!listener_.progress) return;
    const double share = (static_cast<double>(puzzle_) + std::min(1.0, done / all)) / static_cast<double>(puzzles_);
    listener_.progress(share, name_ + ": " + what);
  }

 private:
  const FitListener& listener_;
  std::size_t puzzle_, puzzles_;
  std::string name_;
};

// Everything about one puzzle, step by step.
class PuzzleStudy {
 public:
  PuzzleStudy(const BatchPlan& plan, const ShopKnown& shop, const PlayAsked& asked, std::size_t k,
              const StudyWatch& watch)
      : plan_(plan), puzzle_(plan.puzzles[k]), asked_(asked), watch_(watch) {
    fit_.puzzle = k;
    fit_.closed = closed_puzzle(plan, puzzle_);
    fit_.contacts = block_contacts(fit_.closed);
    errors_ = puzzle_errors(fit_.closed, shop);
    gaps_ = gap_forms(fit_.closed, errors_.faces, fit_.contacts);
  }

  // Only how whole batches come out is asked of batches. All else is about one puzzle that might come out, so each is
  // drawn with a shop of its own: a few thousand of a large batch would be only a few shops.
  //   returns  nothing when it was ended
  Result<std::optional<PuzzleFit>> run() {
    const PuzzlePlays plays(errors_, gaps_, 1, kFitSeed);
    fit_.binds = plays.program().can_bind();
    fit_.sizes = sizes_to_choose(plan_, errors_);
    fit_.allowances.mm.assign(fit_.sizes.size(), 0);
    std::vector<Step> steps = fit_.binds ? play_steps(plays) : std::vector<Step>{};
    add_joints(steps, plays);
    std::optional<Problem> problem;
    if (fit_.binds && plan_.batch.customer)
      steps.push_back({"the year at the customer's", 12.0 * kTrial, [&] { problem = add_year(plays); }});
    if (!take(steps)) return std::optional<PuzzleFit>();
    if (problem) return *std::move(problem);
    return std::optional(std::move(fit_));
  }

 private:
  struct Step {
    std::string what;
    double draws = 0;  // about so much work: as many puzzles drawn
    std::function<void()> work;
  };

  //   returns  false: it was ended
  bool take(const std::vector<Step>& steps) {
    all_ = 0;
    for (const Step& s : steps) all_ += s.draws;
    for (const Step& s : steps) {
      watch_.tell(done_, all_, s.what);
      doing_ = s.what;
      s.work();
      if (!watch_.go_on()) return false;
      done_ += s.draws;
    }
    return true;
  }

  std::vector<Step> play_steps(const PuzzlePlays& plays) {
    const std::vector<double> none(fit_.sizes.size());
    const auto samples = static_cast<double>(asked_.samples);
    const auto sources = static_cast<double>(errors_.numbers.size()), sizes = static_cast<double>(fit_.sizes.size());
    return {
        {"play as planned", samples, [&, none] { fit_.planned = spread(plays, none, asked_.samples); }},
        {"what makes it uncertain", kTrial * std::min(sources, 20.0),
         [&] { fit_.contributions = contributions(errors_, plays, kTrial); }},
        {"what each size does", kTrial * 2 * sizes,
         [&, none] { fit_.per_mm = median_slopes(plays, fit_.sizes, none, kTrial); }},
        {"advice", 4.0 * kTrial,
         [&] { fit_.allowances = allowances_for(errors_, gaps_, plays, fit_.sizes, asked_.play, kTrial); }},
        {"play as advised", samples, [&] { fit_.advised = spread(plays, fit_.allowances.mm, asked_.samples); }},
        {"whole batches as planned", samples, [&, none] { fit_.planned.batch_closes = batches(plays, none); }},
        {"whole batches as advised", samples, [&] { fit_.advised.batch_closes = batches(plays, fit_.allowances.mm); }},
        {"how exact the stops must stand", 8.0 * kTrial,
         [&] {
           fit_.tolerances =
               tolerances_for(errors_, plays, fit_.sizes, fit_.allowances.mm, asked_.window, asked_.chance, kTrial);
         }},
        {"what binds first", 4.0 * kFew,
         [&] { fit_.tight = tight_contacts(gaps_, seen_rows(), plays, added(plays), kFew); }},
    };
  }

  void add_joints(std::vector<Step>& steps, const PuzzlePlays& plays) {
    steps.push_back({"joints seen from outside", 2.0 * kFew, [&] {
                       const std::vector<bool> seen = seen_rows();
                       if (std::find(seen.begin(), seen.end(), true) != seen.end())
                         fit_.open = open_joints(gaps_, seen, plays, added(plays), kPushed);
                     }});
    const auto ways = static_cast<double>(puzzle_.design.take_apart.steps.size());
    steps.push_back({"the way out", 8.0 * kFew * ways, [&] {
                       fit_.sliding = sliding_fit(fit_.closed, errors_, puzzle_.design.standing_cells(),
                                                  puzzle_.design.take_apart.steps, kFitSeed, fit_.sizes,
                                                  fit_.allowances.mm, asked_.window, kFew);
                     }});
  }

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

  // Told of within long runs, too, which may be ended.
  PlayTally tally_of(const PuzzlePlays& plays, const std::vector<double>& mm, std::int64_t samples,
                     PlayCounts& counts) {
    PlayTally tally(asked_.window, plays.draws().copies());
    counts = plays.run(
        samples, [&](std::uint64_t, std::span<const double> some) { tally.add(some); },
        resized(fit_.sizes, mm, plays.draws().lanes()),
        [&] {
          if (samples > kTrial) watch_.tell(done_ + static_cast<double>(tally.samples()), all_, doing_);
          return watch_.go_on();
        });
    return tally;
  }

  PlaySpread spread(const PuzzlePlays& plays, const std::vector<double>& mm, std::int64_t samples) {
    PlayCounts counts;
    const PlayTally tally = tally_of(plays, mm, samples, counts);
    if (fit_.counts.samples == 0) fit_.counts = counts;
    return tally.samples() > 0 ? spread_of(tally, asked_.chance) : PlaySpread{};
  }

  ShareFound batches(const PuzzlePlays& like, const std::vector<double>& mm) {
    PlayCounts counts;
    return tally_of(PuzzlePlays(like, errors_, puzzle_.copies), mm, asked_.samples, counts).batch_closes();
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
      if (!watch_.go_on()) return {};
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
  const StudyWatch& watch_;
  double done_ = 0, all_ = 1;  // of the steps, in draws
  std::string doing_;
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

ShopKnown shop_as_read(const BatchPlan& plan, const std::vector<StopAsRead>& read) {
  ShopKnown shop = shop_known(plan);
  for (const StopAsRead& r : read) shop.states[r.set_up].stop_error_mm[r.stop] = r.error;
  return shop;
}

PlaySpread spread_of(const PlayTally& tally, double chance) {
  return {tally.quantile(0.5), tally.quantile(0.05), tally.quantile(0.95), tally.quantile(1 - chance),
          tally.closes(),      tally.within(),       tally.batch_closes(), tally.bars(kPlayBars)};
}

Result<FitPlan> plan_fit(const BatchPlan& plan, const std::filesystem::path& ledger, const FitListener& listener) {
  const auto start = std::chrono::steady_clock::now();
  FitPlan out;
  out.asked = play_asked(plan.batch);
  auto read = stops_as_read(plan, ledger);
  if (!read) return read.problem();
  out.read = read.take();
  const ShopKnown shop = shop_as_read(plan, out.read);
  for (std::size_t k = 0; k < plan.puzzles.size(); ++k) {
    const StudyWatch watch(listener, k, plan.puzzles.size(), plan.puzzles[k].design.design.name);
    out.complete = watch.go_on();
    if (!out.complete) break;
    auto fit = PuzzleStudy(plan, shop, out.asked, k, watch).run();
    if (!fit) return fit.problem();
    out.complete = fit.value().has_value();
    if (!out.complete) break;
    out.puzzles.push_back(*fit.take());
    if (listener.found) listener.found(out);
  }
  if (listener.progress && out.complete) listener.progress(1, "done");
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
