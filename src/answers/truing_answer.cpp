#include "answers/truing_answer.h"

#include <fmt/core.h>

#include <cmath>

#include "batch/truing_means.h"
#include "ledger/ledger.h"

namespace stickwright {
namespace {

// Readings that scatter so much more than their uncertainties say that it is chance in one of so many cases hold a
// mistake: our own choice.
constexpr double kMistake = 1e-3;

// The reading, from 0, that lies farthest from what all of them together say.
std::size_t farthest(const Alignment& a, std::size_t readings) {
  std::size_t worst = 0;
  for (std::size_t k = 1; k < readings; ++k)
    if (std::abs(a.fit.standardized[k]) > std::abs(a.fit.standardized[worst])) worst = k;
  return worst;
}

// What goes wrong with such a reading first. Common practice, no source.
const char* usual_slip(Look look) {
  if (sign_of_square(look) != 0) return "on which side was the light?";
  if (look == Look::bar || look == Look::flanks) return "which side was higher?";
  return "was it the right line, and the right unit?";
}

// What is left when the advice is followed, and how well that is known: as the error was, and the leaf is.
Estimate left_over(const TruingAnswer& a, Error e) {
  Estimate left;
  left.value = a.turn(e).remaining_rad;
  left.u = a.turn(e).u_remaining_rad;
  return left;
}

}  // namespace

TruingAnswer truing_answer(const Batch& batch, std::vector<Observation> readings) {
  const TruingKnowledge known = truing_knowledge(batch.shop, batch.stick);
  const std::array<TurnMeans, 4> means = turn_means(batch.shop);
  TruingAnswer a{std::move(readings), leaves_of(batch.shop), {}, {}};
  a.found = align(a.readings, known);
  for (Error e : kErrors) {
    const auto k = static_cast<std::size_t>(e);
    a.turns[k] = advise_turn(a.found, e, means[k], a.leaves, a.readings, known);
  }
  return a;
}

bool readings_contradict(const TruingAnswer& a) {
  return a.found.fit.birge && a.found.fit.chance < kMistake;
}

std::string contradiction_in_words(const TruingAnswer& a) {
  const std::size_t k = farthest(a.found, a.readings.size());
  return fmt::format(
      "The readings contradict each other: they lie {:.0f} times as far apart as their uncertainties allow. Look first "
      "at "
      "number {}, {}: {} Read again before you put a leaf in.",
      *a.found.fit.birge, k + 1, name_of(a.readings[k]), usual_slip(a.readings[k].look));
}

Result<Stored> keep_truing(const std::filesystem::path& file, const TruingAnswer& a, const std::string& by,
                           const std::string& note) {
  if (readings_contradict(a)) return Problem{"readings_contradict", "--keep", contradiction_in_words(a), ""};
  auto opened = Ledger::open(file);
  if (!opened) return opened.problem();
  Ledger ledger = opened.take();
  return ledger.add_truing({left_over(a, Error::miter), left_over(a, Error::tilt), left_over(a, Error::roll),
                            left_over(a, Error::pitch), by, note});
}

}  // namespace stickwright
