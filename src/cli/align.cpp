#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "answers/truing_answer.h"
#include "answers/truing_readings.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "ledger/ledger.h"
#include "shop/batch.h"

namespace stickwright {

int align_verb(const Options& options) {
  const auto batch = load_batch(options.file);
  if (!batch) return tell(batch.problem());
  const TruingTexts texts{options.gaps, options.over, options.light, options.gap_u, options.readings, {}};
  const auto readings = truing_readings(texts, batch.value().shop.caliper);
  if (!readings) return tell(readings.problem());
  const TruingAnswer answer = truing_answer(batch.value(), readings.value());
  const std::filesystem::path ledger = ledger_path(options.file);
  if (options.keep)
    if (const auto kept = keep_truing(ledger, answer, options.by, options.note); !kept) return tell(kept.problem());
  if (options.json)
    print_json(truing_json(answer));
  else
    fmt::print("{}", truing_report(answer));
  if (options.keep && !options.json)
    fmt::print("Written into {}: the saw as it is when this advice is followed.\n", ledger.string());
  return kDone;
}

}  // namespace stickwright
