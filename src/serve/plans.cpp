#include "serve/plans.h"

#include <algorithm>
#include <optional>

#include "design/design_file.h"
#include "ledger/ledger.h"
#include "serve/plan_cache.h"
#include "text/toml_reader.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kBatchesKept = 8, kDesignsKept = 32;

// A batch names its shop, its designs and earlier batches, and planning reads them all.
std::optional<Problem> what_leads_out(const Folder& folder, const fs::path& batch) {
  const auto read = read_toml(batch);
  if (!read) return read.problem();
  const Table root = read.value().root();
  const auto leads_out = [&](const std::string& text) { return !folder.holds(batch.parent_path() / text); };
  const std::string say = "this file does not lie in the folder that is served; serve a folder that holds them all";
  if (root.has("shop") && leads_out(root.text("shop"))) return root.problem_at("shop", "outside_folder", say);
  if (const auto earlier = root.texts_or_none("learn_from"); std::any_of(earlier.begin(), earlier.end(), leads_out))
    return root.problem_at("learn_from", "outside_folder", say);
  for (const Table& puzzle : root.tables_or_none("puzzle"))
    if (puzzle.has("design") && leads_out(puzzle.text("design")))
      return puzzle.problem_at("design", "outside_folder", say);
  return std::nullopt;
}

template <class T>
Result<Shared<T>> shared(Result<T> result) {
  if (!result) return result.problem();
  return Shared<T>(std::make_shared<const T>(result.take()));
}

}  // namespace

struct Plans::Impl {
  Folder folder;
  PlanCache<BatchPlan> puzzles{kBatchesKept}, set_ups{kBatchesKept}, at_hand{kBatchesKept};
  PlanCache<FittedBatch> fits{kBatchesKept};
  PlanCache<FullPlan> fulls{kBatchesKept};
  PlanCache<FirstLook> designs{kDesignsKept};

  template <class T>
  Result<Shared<T>> shown(Result<Shared<T>> result) const {
    if (!result) return folder.shown(result.problem());
    return result;
  }

  Result<Shared<BatchPlan>> set_ups_of(const fs::path& batch, const std::string& state) {
    return set_ups.get(batch.string(), state, [&]() -> Result<Shared<BatchPlan>> {
      if (auto problem = what_leads_out(folder, batch)) return *std::move(problem);
      return shared(plan_set_ups(batch.string()));
    });
  }
  Result<Shared<FittedBatch>> fit_of(const fs::path& batch, const std::string& state) {
    return fits.get(batch.string(), state, [&]() -> Result<Shared<FittedBatch>> {
      const auto plan = set_ups_of(batch, state);
      if (!plan) return plan.problem();
      auto fit = plan_fit(*plan.value(), ledger_path(batch));
      if (!fit) return fit.problem();
      return std::make_shared<const FittedBatch>(FittedBatch{plan.value(), fit.take()});
    });
  }
  // The cheap parts first: whoever lacks sticks need not wait to hear of it.
  Result<Shared<FullPlan>> full_of(const fs::path& batch, const std::string& state) {
    const auto plan = set_ups_of(batch, state);
    if (!plan) return plan.problem();
    auto sticks = plan_batch_sticks(*plan.value());
    if (!sticks) return sticks.problem();
    auto week = plan_week(*plan.value(), sticks.value());
    if (!week) return week.problem();
    const auto fit = fit_of(batch, state);
    if (!fit) return fit.problem();
    // A ledger may have grown in between: all parts of a plan have to be of the same set-ups.
    if (fit.value()->set_ups != plan.value()) return shared(plan_batch(batch.string()));
    return std::make_shared<const FullPlan>(FullPlan{*plan.value(), sticks.take(), week.take(), fit.value()->fit});
  }
};

Plans::Plans(const Folder& folder) : impl_(new Impl{folder}) {}
Plans::~Plans() = default;

Result<Shared<BatchPlan>> Plans::puzzles(const std::string& batch) {
  const auto place = impl_->folder.file(batch);
  if (!place) return place.problem();
  const std::string file = place.value().string();
  return impl_->shown(impl_->puzzles.get(file, impl_->folder.fingerprint(false), [&]() -> Result<Shared<BatchPlan>> {
    if (auto problem = what_leads_out(impl_->folder, file)) return *std::move(problem);
    return shared(plan_puzzles(file));
  }));
}

Result<Shared<BatchPlan>> Plans::set_ups(const std::string& batch) {
  const auto place = impl_->folder.file(batch);
  if (!place) return place.problem();
  return impl_->shown(impl_->set_ups_of(place.value(), impl_->folder.fingerprint(true)));
}

Result<Shared<BatchPlan>> Plans::set_ups_at_hand(const std::string& batch) {
  const auto place = impl_->folder.file(batch);
  if (!place) return place.problem();
  return impl_->at_hand.get(place.value().string(), impl_->folder.fingerprint(false), [&] { return set_ups(batch); });
}

Result<Shared<FitPlan>> Plans::fit(const std::string& batch) {
  const auto place = impl_->folder.file(batch);
  if (!place) return place.problem();
  const auto found = impl_->shown(impl_->fit_of(place.value(), impl_->folder.fingerprint(true)));
  if (!found) return found.problem();
  return Shared<FitPlan>(found.value(), &found.value()->fit);
}

Result<Shared<FittedBatch>> Plans::fitted(const std::string& batch, const FitListener& listener) {
  const auto place = impl_->folder.file(batch);
  if (!place) return place.problem();
  const std::string file = place.value().string(), state = impl_->folder.fingerprint(true);
  if (const auto kept = impl_->fits.at_hand(file, state)) return impl_->shown(*kept);
  const auto plan = impl_->set_ups_of(place.value(), state);
  if (!plan) return impl_->folder.shown(plan.problem());
  auto fit = plan_fit(*plan.value(), ledger_path(place.value()), listener);
  if (!fit) return impl_->folder.shown(fit.problem());
  auto answer = std::make_shared<const FittedBatch>(FittedBatch{plan.value(), fit.take()});
  if (answer->fit.complete) impl_->fits.put(file, state, Shared<FittedBatch>(answer));
  return Shared<FittedBatch>(answer);
}

Result<Shared<FittedBatch>> Plans::fitted_at_hand(const std::string& batch) {
  const auto place = impl_->folder.file(batch);
  if (!place) return place.problem();
  const auto kept = impl_->fits.at_hand(place.value().string(), impl_->folder.fingerprint(true));
  return kept ? impl_->shown(*kept) : Result<Shared<FittedBatch>>(Shared<FittedBatch>());
}

Result<Shared<FullPlan>> Plans::full(const std::string& batch) {
  const auto place = impl_->folder.file(batch);
  if (!place) return place.problem();
  const std::string state = impl_->folder.fingerprint(true);
  return impl_->shown(
      impl_->fulls.get(place.value().string(), state, [&] { return impl_->full_of(place.value(), state); }));
}

// A design stands in one file: what else changes in the folder does not matter to it.
Result<Shared<FirstLook>> Plans::look(const std::string& design) {
  const auto place = impl_->folder.file(design);
  if (!place) return place.problem();
  const auto text = impl_->folder.read(design);
  if (!text) return text.problem();
  const auto compute = [&]() -> Result<Shared<FirstLook>> {
    auto read = load_design(place.value());
    if (!read) return read.problem();
    return std::make_shared<const FirstLook>(first_look(read.take()));
  };
  return impl_->shown(impl_->designs.get(place.value().string(), version_of(text.value()), compute));
}

Result<Shared<DesignPlan>> Plans::design(const std::string& design) {
  const auto found = look(design);
  if (!found) return found.problem();
  return Shared<DesignPlan>(found.value(), &found.value()->plan);
}

void Plans::learn(const std::string& design, const std::string& state, DesignPlan plan) {
  const auto place = impl_->folder.file(design);
  if (!place) return;
  const auto known = impl_->designs.at_hand(place.value().string(), state);
  if (plan.stopped() && known && *known && !known->value()->plan.stopped()) return;  // that says all there is
  plan.assemblies.kept.clear();  // many, and nobody shows them
  impl_->designs.put(place.value().string(), state, std::make_shared<const FirstLook>(with_split(std::move(plan))));
}

}  // namespace stickwright
