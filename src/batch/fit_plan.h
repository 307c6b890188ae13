// fit_plan.h - will the puzzles of a batch close, and how snug: the whole answer, with advice.
#pragma once
#include <array>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "batch/plan.h"
#include "batch/stops_as_read.h"
#include "fit/allowances.h"
#include "fit/contributions.h"
#include "fit/play_tally.h"
#include "fit/sliding_fit.h"
#include "fit/tight_contacts.h"
#include "fit/tolerances.h"
#include "wood/season.h"

namespace stickwright {

// What is asked of the closed puzzle: the batch file's [fit], with defaults for what it leaves out.
struct PlayAsked {
  double play = 0;  // mm, of the median puzzle
  PlayWindow window;
  double chance = 0.9;  // share of the puzzles that should close
  std::int64_t samples = 20'000;
};

// How the play of many puzzles is distributed, mm.
struct PlaySpread {
  double median = 0, p05 = 0, p95 = 0;
  double at_chance = 0;  // as many as should close have at least this
  ShareFound closes, within, batch_closes;
  PlayTally::Bars bars;
};

struct MonthFit {
  MonthMoisture moisture;  // percent
  double median = 0, p05 = 0;
  double at_chance = 0;  // as many as should close have at least this
  ShareFound closes;
};

struct YearFit {
  double at_making = 0;  // percent moisture content of the blocks when they are cut and glued
  double lag_days = 0;
  std::array<MonthFit, 12> months;  // January to December
  std::size_t tightest = 0, loosest = 0;
};

// Of one puzzle of the batch.
struct PuzzleFit {
  std::size_t puzzle = 0;  // index into BatchPlan::puzzles
  ClosedPuzzle closed;
  std::vector<BlockContact> contacts;
  bool binds = true;   // false: its contacts cannot jam, whatever is off, and there is no play to speak of
  PlaySpread planned;  // with the stops as planned
  Contributions contributions;
  std::vector<Dimension> sizes;
  std::vector<double> per_mm;  // by size: of the median play, as planned
  Allowances allowances;
  PlaySpread advised;  // with the allowances; the same as planned where there are none
  Tolerances tolerances;
  TightContacts tight;             // with the allowances
  std::optional<OpenJoints> open;  // likewise; also where nothing binds; nothing: no joint can be seen from outside
  std::vector<SlidingStep> sliding;
  std::optional<YearFit> year;
  PlayCounts counts;  // of `planned`
};

struct FitPlan {
  PlayAsked asked;
  std::vector<StopAsRead> read;    // stops that are known by test blocks
  std::vector<PuzzleFit> puzzles;  // in the batch's order
  bool complete = true;            // false: ended before all puzzles were done; those that are done are as always
  double seconds = 0;
};

// Who hears how far the fit is, and may end it. Any of them may be left out. Whether somebody listens changes no
// number.
struct FitListener {
  std::function<void(double share, const std::string& words)> progress;  // share of the work that is done, 0 to 1
  std::function<void(const FitPlan& so_far)> found;                      // after each puzzle: the last is the new one
  std::function<bool()> cancelled;  // true: end soon; the puzzle that is being worked on is given up
};

inline constexpr std::uint64_t kFitSeed = 1;  // of all puzzles drawn, so that runs repeat
inline constexpr int kPlayBars = 40;          // of a distribution, at most

PlayAsked play_asked(const Batch& batch);

// The fit of every puzzle of the batch.
//   ledger   of the batch; one that does not exist says nothing
//   errors   those of the ledger; out_of_range (the customer's air)
Result<FitPlan> plan_fit(const BatchPlan& plan, const std::filesystem::path& ledger, const FitListener& listener = {});

// What is known of the shop, with the stops as they were read.
ShopKnown shop_as_read(const BatchPlan& plan, const std::vector<StopAsRead>& read);

// The distribution that a tally holds.
//   chance   as PlayAsked::chance
PlaySpread spread_of(const PlayTally& tally, double chance);

// The tightest tolerance that any puzzle needs of a set-up; nothing when none needs one.
std::optional<Mm> needed_tolerance(const FitPlan& fit, int shape);

}  // namespace stickwright
