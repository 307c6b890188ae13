// How long it takes to find what is off from 200 readings, to cut one block, to differentiate one test, and to draw
// saws for one prediction.
//   build: cmake --preset bench && cmake --build build/bench --target truing_bench
//   use:   build/bench/bench/truing_bench
// Minimum, median and maximum. Base of the truing: the least squares alone, on as many rows with as many unknowns. Base
// of the cuts: the plain model of the tests, half-spaces and all their triples.
#include <random>

#include "saw/plain_model.h"
#include "timing.h"
#include "truing/align.h"
#include "truing/likely.h"
#include "truing/true_saws.h"

namespace {

using namespace stickwright;

constexpr std::size_t kReadings = 200, kUnknowns = 9;

// Readings of every kind of a saw that is off.
std::vector<Observation> readings() {
  SawState s = nominal_saw(Mm{16});
  s.miter_error_rad = 2e-3, s.blade_tilt_rad = -1e-3, s.cradles[0].roll_rad = 1e-3, s.cradles[0].pitch_rad = 2e-3;
  s.stop_error_mm = {0.1};
  const auto shape = block_shape(s);
  std::mt19937_64 random(4);
  std::vector<Observation> out;
  for (std::size_t k = 0; k < kReadings; ++k) {
    const auto look = static_cast<Look>(k % kLooks);
    Observation o{look, static_cast<int>(k / kLooks % (look == Look::width ? 2 : 4)), {}, Mm{60}, Mm{0.004}};
    const double noise = 0.004 * (static_cast<double>(random() % 2001) / 1000 - 1);
    o.measured = Mm{expected_reading(o, s, shape) + noise};
    out.push_back(o);
  }
  return out;
}

LinearSystem as_many_rows() {
  std::mt19937_64 random(5);
  const auto number = [&] { return static_cast<double>(random() % 20001) / 1e4 - 1; };
  LinearSystem s;
  s.unknowns.assign(kUnknowns, {"x", "mm", 1});
  for (std::size_t i = 0; i < kReadings; ++i) {
    LinearRow row{"reading", std::vector<double>(kUnknowns), number(), 0.01};
    for (double& c : row.coefficients) c = number();
    s.rows.push_back(std::move(row));
  }
  return s;
}

template <class Work>
bench::Times times_of(std::size_t runs, const Work& work) {
  std::vector<double> ms;
  for (std::size_t k = 0; k < runs; ++k) ms.push_back(bench::milliseconds(work));
  return bench::summary(ms);
}

// The mean over so many runs at a time: one alone is too short to be timed.
template <class Work>
bench::Times times_of_short(std::size_t runs, const Work& work) {
  constexpr int kAtATime = 200;
  bench::Times t = times_of(runs, [&] {
    for (int k = 0; k < kAtATime; ++k) work();
  });
  return {t.least / kAtATime, t.median / kAtATime, t.most / kAtATime};
}

}  // namespace

int main() {
  volatile double kept = 0;
  bench::print_heading();
  const auto seen = readings();
  const LinearSystem system = as_many_rows();
  const auto alone = times_of(101, [&] { kept = solve(system).chi_square; });
  const auto aligned = times_of(101, [&] { kept = align(seen, {}).fit.chi_square; });
  bench::print_line("least squares, 200 rows, 9 unknowns (base)", alone, 101, alone.median);
  bench::print_line("align: 200 readings of all kinds", aligned, 101, alone.median);

  const StopTest test = stop_test("squat octahedron", {});
  const SawState saw = best_values(test.state);
  const Program& program = test.across.program;
  const auto plain =
      times_of_short(51, [&] { kept = static_cast<double>(plain::corners(plain::half_spaces(program, saw)).size()); });
  const auto cut = times_of_short(51, [&] { kept = static_cast<double>(saw::cut(program, saw).faces.size()); });
  const auto slopes = times_of_short(
      51, [&] { kept = slopes_across(program, saw, test.across.face_a, test.across.face_b).front()->up; });
  const auto drawn =
      times_of(11, [&] { kept = predict(test.across, test.state, test.parts, test.reading, Draw::always).sampled->u; });
  const Measured measured{&test.prediction, 16.05, 1};
  const auto advised = times_of_short(51, [&] { kept = likely_causes({&measured, 1}).stop; });
  bench::print_line("plain model, squat octahedron (base)", plain, 51, plain.median);
  bench::print_line("saw::cut", cut, 51, plain.median);
  bench::print_line("all slopes of one test", slopes, 51, plain.median);
  bench::print_line("likely causes of one reading", advised, 51, plain.median);
  bench::print_line("predict, drawing saws", drawn, 11, plain.median);
}
