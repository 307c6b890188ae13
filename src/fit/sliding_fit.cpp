#include "fit/sliding_fit.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "takeapart/frames.h"

namespace stickwright {
namespace {

// Where the pieces stand at one place on the way of a step, in lattice units / unit.
struct OnTheWay {
  std::vector<Vec> shifts;
  std::int64_t unit = 1;
  double moved = 0;  // lattice units
};

double length_of(Vec v) {
  return std::sqrt(static_cast<double>(dot(v, v)));
}

// The places of a step, without its two ends: at these it still stands as after the step before, or is over.
std::vector<OnTheWay> places_of(const Frame& frame, std::int64_t unit) {
  double longest = 0;
  for (std::size_t i = 0; i < frame.before.size(); ++i)
    longest = std::max(longest, length_of(frame.after[i] - frame.before[i]) / static_cast<double>(unit));
  const auto parts = static_cast<std::int64_t>(std::ceil(longest * kPlacesPerUnit));
  std::vector<OnTheWay> out;
  for (std::int64_t k = 1; k < parts; ++k) {
    OnTheWay p{{}, unit * parts, longest * static_cast<double>(k) / static_cast<double>(parts)};
    for (std::size_t i = 0; i < frame.before.size(); ++i)
      p.shifts.push_back(parts * frame.before[i] + k * (frame.after[i] - frame.before[i]));
    out.push_back(std::move(p));
  }
  return out;
}

// The pieces that are together in a step.
std::set<int> part_of(const Step& step) {
  std::set<int> part(step.from.begin(), step.from.end());
  for (const Glide& g : step.gliding()) part.insert(g.pieces.begin(), g.pieces.end());
  return part;
}

std::vector<BlockContact> contacts_within(const ClosedPuzzle& puzzle, const std::set<int>& part,
                                          const OnTheWay& place) {
  std::vector<BlockContact> contacts = block_contacts(puzzle, place.shifts, place.unit);
  std::erase_if(contacts, [&](const BlockContact& c) {
    return !part.contains(puzzle.blocks[static_cast<std::size_t>(c.from)].piece) ||
           !part.contains(puzzle.blocks[static_cast<std::size_t>(c.to)].piece);
  });
  return contacts;
}

}  // namespace

std::vector<SlidingStep> sliding_fit(const ClosedPuzzle& puzzle, const PuzzleErrors& errors,
                                     const std::vector<Cells>& pieces, const std::vector<Step>& steps,
                                     std::uint64_t seed, const std::vector<Dimension>& dimensions,
                                     const std::vector<double>& added, const PlayWindow& window, std::int64_t samples) {
  const Frames frames = frames_of(mitered(), pieces, steps);
  std::vector<SlidingStep> out;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const std::set<int> part = part_of(steps[k]);
    SlidingStep step;
    std::vector<double> least;
    std::vector<double> at;
    for (const OnTheWay& place : places_of(frames.steps[k], frames.unit)) {
      ++step.places;
      const std::vector<BlockContact> contacts = contacts_within(puzzle, part, place);
      if (contacts.empty()) continue;
      const PuzzlePlays plays(errors, gap_forms(puzzle, errors.faces, contacts, place.shifts, place.unit), 1, seed);
      if (!plays.program().can_bind()) continue;
      const std::vector<double> here = plays_of(plays, samples, resized(dimensions, added, plays.draws().lanes()));
      if (least.empty()) least.assign(here.size(), INFINITY), at.assign(here.size(), 0);
      for (std::size_t i = 0; i < here.size(); ++i)
        if (here[i] < least[i]) least[i] = here[i], at[i] = place.moved;
    }
    if (!least.empty()) {
      PlayTally tally(window, 1);
      tally.add(least);
      step.binds = true;
      step.median_mm = tally.quantile(0.5), step.p05_mm = tally.quantile(0.05);
      step.slides = tally.closes();
      step.tightest_at = median(at);
    }
    out.push_back(step);
  }
  return out;
}

}  // namespace stickwright
