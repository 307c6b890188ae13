#include "fit/dimensions.h"

#include <fmt/core.h>

#include <algorithm>
#include <numeric>

namespace stickwright {
namespace {

constexpr double kStep = 0.005;       // mm to both sides: small beside what a play varies by
constexpr double kMiddleShare = 0.1;  // of the puzzles: those about the median

Dimension all_of(const PuzzleErrors& errors, SizeOf size_of, std::string name) {
  Dimension d{std::move(name), size_of, -1, -1, {}};
  for (std::size_t k = 0; k < errors.numbers.size(); ++k)
    if (errors.numbers[k].size_of == size_of) d.numbers.push_back(errors.number_at(k));
  return d;
}

// Indices of the puzzles whose plays lie about the median.
std::vector<std::size_t> middle_ones(const std::vector<double>& plays) {
  std::vector<std::size_t> order(plays.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return plays[a] < plays[b]; });
  const auto n = static_cast<double>(plays.size());
  const auto from = static_cast<std::ptrdiff_t>((0.5 - kMiddleShare / 2) * n),
             to = static_cast<std::ptrdiff_t>((0.5 + kMiddleShare / 2) * n);
  return {order.begin() + from, order.begin() + to + 1};
}

}  // namespace

std::vector<Dimension> dimensions_of(const PuzzleErrors& errors) {
  std::vector<Dimension> out;
  for (const StopNumber& s : errors.stops)
    out.push_back(
        {errors.numbers[static_cast<std::size_t>(s.number) - 1].name, SizeOf::stop, s.shape, s.stop, {s.number}});
  std::stable_sort(out.begin(), out.end(), [](const Dimension& a, const Dimension& b) {
    return std::pair(a.shape, a.stop) < std::pair(b.shape, b.stop);
  });
  out.push_back(all_of(errors, SizeOf::stick, "width of the sticks"));
  if (Dimension glue = all_of(errors, SizeOf::glue_line, "glue lines"); !glue.numbers.empty())
    out.push_back(std::move(glue));
  return out;
}

AlterBunch resized(const std::vector<Dimension>& dimensions, const std::vector<double>& mm, std::size_t lanes) {
  return [&dimensions, mm, lanes](std::uint64_t, std::span<double> values) {
    for (std::size_t d = 0; d < mm.size(); ++d)
      for (int number : dimensions[d].numbers)
        for (double& v : values.subspan(static_cast<std::size_t>(number) * lanes, lanes)) v += mm[d];
  };
}

std::vector<double> plays_of(const PuzzlePlays& plays, std::int64_t samples, const AlterBunch& alter) {
  std::vector<double> out;
  plays.run(
      samples, [&](std::uint64_t, std::span<const double> some) { out.insert(out.end(), some.begin(), some.end()); },
      alter);
  return out;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

std::vector<double> slopes_of_plays(const PuzzlePlays& plays, const std::vector<Dimension>& dimensions, std::size_t d,
                                    const std::vector<double>& around, std::int64_t samples) {
  const std::size_t lanes = plays.draws().lanes();
  std::vector<double> wider = around, narrower = around;
  wider[d] += kStep, narrower[d] -= kStep;
  std::vector<double> slopes = plays_of(plays, samples, resized(dimensions, wider, lanes));
  const std::vector<double> less = plays_of(plays, samples, resized(dimensions, narrower, lanes));
  for (std::size_t i = 0; i < slopes.size(); ++i) slopes[i] = (slopes[i] - less[i]) / (2 * kStep);
  return slopes;
}

std::vector<double> median_slopes(const PuzzlePlays& plays, const std::vector<Dimension>& dimensions,
                                  const std::vector<double>& around, std::int64_t samples) {
  const std::vector<std::size_t> middle =
      middle_ones(plays_of(plays, samples, resized(dimensions, around, plays.draws().lanes())));
  std::vector<double> out;
  for (std::size_t d = 0; d < dimensions.size(); ++d) {
    const std::vector<double> slopes = slopes_of_plays(plays, dimensions, d, around, samples);
    double sum = 0;
    for (std::size_t i : middle) sum += slopes[i];
    out.push_back(sum / static_cast<double>(middle.size()));
  }
  return out;
}

}  // namespace stickwright
