#include "fit/drawn_plays.h"

#include <oneapi/tbb/enumerable_thread_specific.h>
#include <oneapi/tbb/parallel_for.h>

#include <limits>

namespace stickwright {

// What a thread needs, kept from call to call: the sets of balanced forces that it has met answer the next ones.
struct DrawnPlays::Desk {
  explicit Desk(const FitProgram& program) : walk(program) {}
  VertexWalk walk;
  std::vector<double> values, gaps;
};

struct DrawnPlays::Impl {
  const PuzzlePlays& plays;
  std::vector<std::vector<double>> drawn;  // [bunch] as PuzzleDraws::draw; what is derived is left open
  oneapi::tbb::enumerable_thread_specific<Desk> desks{[this] { return Desk(plays.program()); }};
};

DrawnPlays::DrawnPlays(const PuzzlePlays& plays, std::int64_t samples) : impl_(new Impl{plays, {}}) {
  const PuzzleDraws& draws = plays.draws();
  impl_->drawn.resize(plays.bunches_for(samples));
  oneapi::tbb::parallel_for(std::size_t{0}, impl_->drawn.size(), [&](std::size_t bunch) {
    impl_->drawn[bunch].resize(draws.numbers() * draws.lanes());
    draws.draw(bunch, impl_->drawn[bunch]);
  });
}

DrawnPlays::~DrawnPlays() = default;

std::int64_t DrawnPlays::samples() const {
  return static_cast<std::int64_t>(impl_->drawn.size() * impl_->plays.draws().lanes());
}

std::vector<double> DrawnPlays::altered(const AlterBunch& alter) const {
  const PuzzlePlays& plays = impl_->plays;
  const std::size_t lanes = plays.draws().lanes();
  std::vector<double> out(impl_->drawn.size() * lanes, std::numeric_limits<double>::infinity());
  if (!plays.program().can_bind()) return out;
  oneapi::tbb::parallel_for(std::size_t{0}, impl_->drawn.size(), [&](std::size_t bunch) {
    Desk& desk = impl_->desks.local();
    desk.values = impl_->drawn[bunch];
    if (alter) alter(bunch, desk.values);
    plays.gaps_of(desk.values, desk.gaps);
    desk.walk.play(desk.gaps, lanes, std::span(out).subspan(bunch * lanes, lanes));
  });
  return out;
}

}  // namespace stickwright
