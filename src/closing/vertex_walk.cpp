#include <algorithm>
#include <limits>
#include <optional>

#include "closing/closed_fit.h"
#include "closing/neighbor_walk.h"
#include "closing/part_walk.h"

namespace stickwright {
namespace {

constexpr double kEndless = std::numeric_limits<double>::infinity();

using Eight = double[kLanes];

// Positions take the steps of the simplex method in any case.
struct PartMemory {
  PartWalk walk;
  std::optional<NeighborWalk> neighbors;
  PartMemory(const BindingPart& part, std::size_t most_bytes) : walk(part, most_bytes) {
    if (play_by(part) == PlayBy::neighbors) neighbors.emplace(part, most_bytes);
  }
};

}  // namespace

struct VertexWalk::Memory {
  FitProgram program;
  std::vector<PartMemory> parts;  // complete ones first, then those by neighbors
  Doubles gap8;
  std::uint64_t answered = 0;

  Memory(const FitProgram& p, std::size_t most_bytes) : program(p) {
    const std::vector<BindingPart>& all = program.parts().parts;
    const std::size_t remembering = std::max<std::size_t>(
        1, std::count_if(all.begin(), all.end(), [](const BindingPart& b) { return play_by(b) != PlayBy::list; }));
    for (const BindingPart& part : all) parts.emplace_back(part, most_bytes / remembering);
    std::stable_sort(parts.begin(), parts.end(), [](const PartMemory& a, const PartMemory& b) {
      return a.walk.complete() != b.walk.complete() ? a.walk.complete() : a.neighbors && !b.neighbors;
    });
    std::size_t places = 0;
    for (const PartMemory& m : parts) places = std::max<std::size_t>(places, m.walk.table().places);
    gap8.assign(places * kLanes, kFarGap);
  }

  // Eight samples, from `first` on; where there are fewer, the last one again.
  void spread(const PartWalk& w, std::span<const double> h, std::size_t first, std::size_t samples) {
    const std::size_t rows = program.rows();
    for (int j = 0; j < kLanes; ++j) {
      const double* sample = h.data() + std::min(first + j, samples - 1) * rows;
      for (std::size_t r = 0; r < w.part().rows.size(); ++r)
        gap8[w.table().place_of[r] * kLanes + j] = sample[w.part().rows[r]];
    }
  }

  void take(PartWalk& w, int j) {
    for (const int place : w.table().place_of) w.work().gap[place] = gap8[place * kLanes + j];
  }

  // Out: the least of what it was and the part's plays.
  void plays(PartWalk& w, std::span<const double> h, std::size_t first, std::size_t samples, Eight& out) {
    LeastOfEight found;
    spread(w, h, first, samples);
    w.look(gap8.data(), found);
    const std::size_t lanes = std::min<std::size_t>(kLanes, samples - first);
    for (std::size_t j = 0; j < lanes; ++j) {
      double high = found.value[j];
      if (!w.complete()) {
        take(w, static_cast<int>(j));
        const PlayBounds b = w.solve(static_cast<int>(found.which[j]), out[j]);
        high = b.low >= out[j] ? out[j] : b.high;
      }
      out[j] = std::min(out[j], high);
    }
  }

  void plays(std::span<const double> h, std::size_t first, std::size_t samples, Eight& out) {
    std::fill(out, out + kLanes, kEndless);
    const std::size_t lanes = std::min<std::size_t>(kLanes, samples - first);
    for (PartMemory& m : parts) {
      if (m.neighbors) {
        for (std::size_t j = 0; j < lanes; ++j)
          out[j] = std::min(out[j], m.neighbors->play(h.data() + (first + j) * program.rows()));
      } else {
        plays(m.walk, h, first, samples, out);
      }
    }
    answered += lanes;
  }

  ClosedFit fit(std::span<const double> h);
};

// Each part stands where it fits best; the loose rows are then opened as far as the least play needs.
ClosedFit VertexWalk::Memory::fit(std::span<const double> h) {
  const BindingParts& b = program.parts();
  ClosedFit fit{kEndless, {}, {}};
  std::vector<double> shift;
  ++answered;
  LeastOfEight found;
  for (const BindingPart& part : b.parts) {  // in their order in b.displacement
    PartWalk& w =
        std::find_if(parts.begin(), parts.end(), [&](const PartMemory& m) { return &m.walk.part() == &part; })->walk;
    spread(w, h, 0, 1);
    w.look(gap8.data(), found);
    take(w, 0);
    const PlayBounds bounds = w.solve(w.complete() ? 0 : static_cast<int>(found.which[0]), kEndless);
    for (std::size_t r = 0; r < part.rows.size(); ++r)
      shift.push_back(w.work().play() + w.work().slack[w.table().place_of[r]] - h[part.rows[r]]);
    if (bounds.high >= fit.play_mm) continue;
    fit.play_mm = bounds.high;
    fit.forces.clear();
    const ForceVertex v = w.forces();
    for (std::size_t i = 0; i < v.rows.size(); ++i) fit.forces.push_back({part.rows[v.rows[i]], v.shares[i]});
  }
  std::sort(fit.forces.begin(), fit.forces.end(), [](ContactForce x, ContactForce y) { return x.row < y.row; });
  const Eigen::MatrixXd& rows = program.balance().rows;
  const Eigen::Index columns = rows.cols() - 1;
  Eigen::VectorXd at =
      b.displacement * Eigen::Map<const Eigen::VectorXd>(shift.data(), static_cast<Eigen::Index>(shift.size()));
  double wanted = 0;
  for (const int r : b.loose) wanted = std::max(wanted, fit.play_mm - h[r] - rows.row(r).head(columns).dot(at));
  at += wanted * b.opening;
  fit.moved = twists(program.balance(), {at.data(), static_cast<std::size_t>(columns)});
  return fit;
}

VertexWalk::VertexWalk(const FitProgram& program, std::size_t most_bytes)
    : memory_(std::make_unique<Memory>(program, most_bytes)) {}

VertexWalk::~VertexWalk() = default;
VertexWalk::VertexWalk(VertexWalk&&) noexcept = default;
VertexWalk& VertexWalk::operator=(VertexWalk&&) noexcept = default;

ClosedFit VertexWalk::fit(std::span<const double> h) {
  if (memory_->parts.empty()) return {kEndless, {}, {}};
  return memory_->fit(h);
}

double VertexWalk::play(std::span<const double> h) {
  double play = 0;
  this->play(h, 1, {&play, 1});
  return play;
}

void VertexWalk::play(std::span<const double> h, std::size_t samples, std::span<double> out) {
  Eight plays;
  for (std::size_t first = 0; first < samples; first += kLanes) {
    memory_->plays(h, first, samples, plays);
    std::copy_n(plays, std::min<std::size_t>(kLanes, samples - first),
                out.begin() + static_cast<std::ptrdiff_t>(first));
  }
}

WalkCounts VertexWalk::counts() const {
  WalkCounts c{memory_->answered};
  for (const PartMemory& m : memory_->parts) {
    c.pivots += m.walk.pivots() + (m.neighbors ? m.neighbors->steps() : 0);
    c.fresh_solves += m.walk.fresh_solves();
    c.vertices += m.neighbors ? m.walk.part().all_vertices->size() : m.walk.known();
  }
  return c;
}

}  // namespace stickwright
