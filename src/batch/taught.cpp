#include "batch/taught.h"

#include <fmt/core.h>

#include <cmath>
#include <map>

#include "ledger/ledger.h"
#include "metrology/control_chart.h"

namespace stickwright {
namespace {

constexpr std::size_t kEnough = 8;  // differences between readings; our own choice

// Variance of single blocks along the axis, summed with its degrees of freedom.
struct Pool {
  double sum = 0;
  std::size_t freedom = 0;
};

// The truing that was written last, of all ledgers.
struct Latest {
  std::string at;
  Truing truing;
};

std::size_t leaves_before(const std::vector<KeptLeaf>& leaves, const KeptReading& r) {
  std::size_t n = 0;
  for (const KeptLeaf& l : leaves)
    n += !l.withdrawn && l.id < r.id && l.leaf.set_up == r.reading.set_up && l.leaf.stop == r.reading.stop;
  return n;
}

// Readings of one stop as it stood, in order.
std::vector<std::vector<double>> runs_of(const TaughtStop& stop, const std::vector<KeptReading>& readings,
                                         const std::vector<KeptLeaf>& leaves) {
  std::map<std::size_t, std::vector<double>> runs;
  for (const KeptReading& r : readings)
    if (r.value() && r.reading.set_up == stop.set_up && r.reading.stop == stop.stop)
      runs[leaves_before(leaves, r)].push_back(to_mm(*r.value()).v);
  std::vector<std::vector<double>> out;
  for (auto& [leaf, run] : runs) out.push_back(std::move(run));
  return out;
}

void add_run(Pool& pool, const TaughtStop& stop, const std::vector<double>& run) {
  const auto chart = control_chart(run);
  if (!chart) return;
  const double beyond = std::max(0.0, chart->sigma * chart->sigma - stop.u_reading * stop.u_reading);
  pool.sum += static_cast<double>(run.size() - 1) * beyond / (stop.per_stop * stop.per_stop);
  pool.freedom += run.size() - 1;
}

std::optional<Problem> read_ledger(const std::filesystem::path& file, const std::vector<TaughtStop>& stops, Pool& pool,
                                   std::optional<Latest>& latest) {
  auto ledger = Ledger::open(file);
  if (!ledger) return ledger.problem();
  Ledger open = ledger.take();
  const auto truings = open.truings();
  if (!truings) return truings.problem();
  for (const KeptTruing& t : truings.value())
    if (!t.withdrawn && (!latest || t.at >= latest->at)) latest = Latest{t.at, t.truing};
  const auto readings = open.readings();
  if (!readings) return readings.problem();
  const auto leaves = open.leaves_applied();
  if (!leaves) return leaves.problem();
  for (const TaughtStop& s : stops)
    for (const auto& run : runs_of(s, readings.value(), leaves.value())) add_run(pool, s, run);
  return {};
}

std::optional<Estimate> from_truing(Estimate e, const std::string& at) {
  // One that the readings of that truing did not tell was kept with no finite uncertainty.
  if (!std::isfinite(e.u) || e.u <= 0) return {};
  e.source = "ledger, truing of " + at.substr(0, 10);
  return e;
}

}  // namespace

Result<Taught> taught_by(const std::vector<std::filesystem::path>& files, const std::vector<TaughtStop>& stops) {
  Pool pool;
  std::optional<Latest> latest;
  for (const auto& file : files) {
    std::error_code ignored;
    if (!std::filesystem::exists(file, ignored)) continue;
    if (auto problem = read_ledger(file, stops, pool, latest)) return *problem;
  }
  Taught taught;
  if (latest) {
    const Truing& t = latest->truing;
    taught.errors = {from_truing(t.miter, latest->at), from_truing(t.tilt, latest->at), from_truing(t.roll, latest->at),
                     from_truing(t.pitch, latest->at)};
  }
  if (pool.freedom >= kEnough) {
    Estimate e;
    e.u = std::sqrt(pool.sum / static_cast<double>(pool.freedom));
    e.freedom = static_cast<double>(pool.freedom);
    e.source = fmt::format("ledger, {} differences between readings", pool.freedom);
    taught.seating = e;
  }
  return taught;
}

}  // namespace stickwright
