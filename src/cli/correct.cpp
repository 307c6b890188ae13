#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "answers/correct_answer.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"

namespace stickwright {
namespace {

std::string kept_line(const std::filesystem::path& ledger, bool written) {
  if (!written) return "Nothing was written: no leaf is to go in.\n";
  return fmt::format("Written into {}: the leaf is in; readings of this stop count from now on.\n", ledger.string());
}

}  // namespace

int correct_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  const auto place = find_stop(plan.value(), options.set_up, options.stop);
  if (!place) return tell(place.problem());
  const auto measured = measured_as_typed(plan.value(), place.value(), options.measured);
  if (!measured) return tell(measured.problem());
  const std::filesystem::path ledger = ledger_path(options.file);
  const auto answer = correct_answer(plan.value(), ledger, place.value(), measured.value());
  if (!answer) return tell(answer.problem());
  std::string kept;
  if (options.keep) {
    const auto stored = keep_correction(ledger, answer.value(), options.by, options.note);
    if (!stored) return tell(stored.problem());
    kept = kept_line(ledger, stored.value().has_value());
  }
  if (options.json)
    print_json(correction_json(plan.value(), answer.value()));
  else
    fmt::print("{}{}", correction_report(plan.value(), answer.value()), kept);
  return kDone;
}

}  // namespace stickwright
