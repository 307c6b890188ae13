#include "saw/first_order.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "saw/measure.h"

namespace stickwright {
namespace {

constexpr double kNoWeight = 1e-9;  // of normals that are combined; true weights are a tenth and more

struct Weighted {
  std::size_t plane;
  double weight;
};
using Basis = std::vector<Weighted>;

// What touches the stop at a cut, and how the stop's push may be shared among the planes that hold the contact.
struct StopTouch {
  std::vector<Point> ends;
  std::vector<Basis> bases;
};

std::vector<Point> touching(const std::vector<Point>& corners, Point towards_stop) {
  double most = -INFINITY;
  for (Point p : corners) most = std::max(most, dot(towards_stop, p));
  std::vector<Point> out;
  for (Point p : corners)
    if (sign_of(dot(towards_stop, p) - most) == 0) out.push_back(p);
  return out;
}

// Directions along which the contact extends: none for a corner, one for an edge, two for a face.
std::vector<Point> directions(const std::vector<Point>& ends) {
  std::vector<Point> out;
  for (Point p : ends) {
    Point d = p - ends.front();
    for (Point o : out) d = d - dot(o, d) * o;
    if (sign_of(length(d)) != 0) out.push_back((1 / length(d)) * d);
  }
  return out;
}

bool same_planes(const Basis& x, const Basis& y) {
  return std::equal(x.begin(), x.end(), y.begin(), y.end(), [](Weighted v, Weighted w) { return v.plane == w.plane; });
}

// All ways to write `push` as a positive sum of independent normals of these planes. Together with the directions of
// the contact they are three: those take no part of a push that stands upright on them.
std::vector<Basis> bases_of(const std::vector<Plane>& planes, const std::vector<std::size_t>& holding,
                            const std::vector<Point>& along, Point push) {
  std::vector<Point> normals;
  for (std::size_t j : holding) normals.push_back(planes[j].n);
  normals.insert(normals.end(), along.begin(), along.end());
  std::vector<Basis> out;
  for (std::size_t i = 0; i < normals.size(); ++i)
    for (std::size_t j = i + 1; j < normals.size(); ++j)
      for (std::size_t k = j + 1; k < normals.size(); ++k) {
        const double det = dot(normals[i], cross(normals[j], normals[k]));
        if (std::abs(det) < kNoWeight) continue;
        const std::array<std::size_t, 3> of = {i, j, k};
        const std::array<double, 3> weight = {dot(push, cross(normals[j], normals[k])) / det,
                                              dot(push, cross(normals[k], normals[i])) / det,
                                              dot(push, cross(normals[i], normals[j])) / det};
        if (*std::min_element(weight.begin(), weight.end()) < -kNoWeight) continue;
        Basis basis;
        for (int m = 0; m < 3; ++m)
          if (weight[m] > kNoWeight) basis.push_back({holding[of[m]], weight[m]});
        if (std::none_of(out.begin(), out.end(), [&](const Basis& b) { return same_planes(b, basis); }))
          out.push_back(basis);
      }
  return out;
}

StopTouch touch_of(const BasicCutPlanes<double>& nominal, const std::vector<Point>& corners, std::size_t cut) {
  StopTouch touch;
  touch.ends = touching(corners, nominal.towards_stop[cut]);
  std::vector<std::size_t> holding;
  for (std::size_t j = 0; j < plane_number(static_cast<int>(cut) + 1); ++j)
    if (std::all_of(touch.ends.begin(), touch.ends.end(),
                    [&](Point p) { return sign_of(dot(nominal.planes[j].n, p) - nominal.planes[j].c) == 0; }))
      holding.push_back(j);
  touch.bases = bases_of(nominal.planes, holding, directions(touch.ends), nominal.towards_stop[cut]);
  assert(!touch.bases.empty() && (touch.ends.size() <= 2 || touch.bases.size() <= 2));
  return touch;
}

// The work before each cut, and how far it is slid then.
struct NominalRun {
  std::vector<std::vector<Point>> corners;  // [cuts]
  std::vector<double> slides;
};

NominalRun run_of(const Program& program, const SawState& about, Workplace place) {
  NominalRun run;
  run.slides.assign(program.cuts.size(), 0);
  const auto towards = saw::planes_when_slid<double>(program, about, run.slides, place).towards_stop;
  for (std::size_t i = 0; i < program.cuts.size(); ++i) {
    Program before = program;
    before.cuts.resize(i);
    run.corners.push_back(corners_of(saw::cut(before, about, place)));
    run.slides[i] = dot(towards[i], touching(run.corners[i], towards[i]).front());
  }
  return run;
}

Point derivative(const BasicPoint<Dual>& p) {
  return {p.a.d, p.b.d, p.t.d};
}

// How much further along the plane's normal than it stands now the plane will be, at p.
double outward(const BasicPlane<Dual>& plane, Point p) {
  return plane.c.d - dot(derivative(plane.n), p);
}

struct Expansion {
  std::vector<StopTouch> touches;
  FirstOrderBlock block;
};

// All rows' derivatives in one direction.
std::vector<double> column(const Expansion& e, const BasicCutPlanes<Dual>& moving) {
  std::vector<double> out;
  for (std::size_t i = 0; i < e.touches.size(); ++i)
    for (Point end : e.touches[i].ends)
      for (const Basis& basis : e.touches[i].bases) {
        double row = dot(derivative(moving.towards_stop[i]), end);
        for (Weighted w : basis) row += w.weight * outward(moving.planes[w.plane], end);
        out.push_back(row);
      }
  for (const FirstOrderFace& f : e.block.faces) {
    const BasicPlane<Dual>& plane = moving.planes[plane_number(f.made_by)];
    for (double row : {plane.c.d, plane.n.a.d, plane.n.b.d, plane.n.t.d}) out.push_back(row);
  }
  return out;
}

void lay_out_rows(Expansion& e) {
  std::size_t& rows = e.block.rows;
  for (const StopTouch& t : e.touches) {
    e.block.slides.push_back({rows, t.ends.size(), t.bases.size()});
    rows += t.ends.size() * t.bases.size();
  }
  for (const BodyFace& f : e.block.nominal.faces) {
    e.block.faces.push_back({f.made_by, f.plane, rows});
    rows += 4;
  }
}

void append(Expansion& e, const std::vector<double>& column) {
  e.block.columns.insert(e.block.columns.end(), column.begin(), column.end());
}

// Pointers to what the work sees, and to the number that acts on each alone.
template <class T>
std::vector<T*> parts_of(BasicSeen<T>& seen) {
  std::vector<T*> out = {&seen.side_1_mm, &seen.side_2_mm, &seen.miter_rad, &seen.pitch_rad};
  for (T& stop : seen.stops) out.push_back(&stop);
  return out;
}
std::vector<Dual*> acting_on_parts(StateOf<Dual>& s, Workplace place, std::size_t stops) {
  StickOf<Dual>& stick = s.sticks[place.stick];
  s.stop_error_mm.resize(std::max(s.stop_error_mm.size(), stops));
  std::vector<Dual*> out = {&stick.side_1_mm, &stick.side_2_mm, &s.miter_error_rad, &s.cradles[place.cradle].pitch_rad};
  for (std::size_t k = 0; k < stops; ++k) out.push_back(&s.stop_error_mm[k]);
  return out;
}

std::vector<double> seen_slopes(const Program& program, const StateOf<Dual>& moving, Workplace place) {
  BasicSeen<Dual> seen = saw::seen_by_the_work(program, moving, place);
  std::vector<double> out;
  for (const Dual* part : parts_of(seen)) out.push_back(part->d);
  return out;
}

// By number, those before `end`.
std::vector<std::vector<double>> all_seen_slopes(const Program& program, const SawState& saw, Workplace place,
                                                 std::size_t end) {
  StateOf<Dual> moving = standing_still(saw);
  const std::vector<Dual*> numbers = numbers_of(moving);
  std::vector<std::vector<double>> out;
  for (std::size_t i = 0; i < end; ++i) {
    numbers[i]->d = 1;
    out.push_back(seen_slopes(program, moving, place));
    numbers[i]->d = 0;
  }
  return out;
}

// Mixed second derivatives of what the work sees. Each number stands in it to the first power at most, so that the
// difference of two slopes is exact whatever the step.
std::vector<std::vector<FirstOrderProduct>> products_of(const Program& program, const SawState& about,
                                                        Workplace place) {
  constexpr double kNoProduct = 1e-11;  // mm or radians, both numbers off by their scale; rounding is far less
  const std::vector<Parameter> numbers = parameters_of(about);
  const auto here = all_seen_slopes(program, about, place, numbers.size());
  std::vector<std::vector<FirstOrderProduct>> out(here.front().size());
  for (std::size_t j = 1; j < numbers.size(); ++j) {
    SawState stepped = about;
    *numbers_of(stepped)[j] += numbers[j].scale;
    const auto there = all_seen_slopes(program, stepped, place, j);
    for (std::size_t i = 0; i < j; ++i)
      for (std::size_t k = 0; k < out.size(); ++k)
        if (const double change = there[i][k] - here[i][k]; std::abs(change) * numbers[i].scale > kNoProduct)
          out[k].push_back({i, j, change / numbers[j].scale});
  }
  return out;
}

// One column for each number, without those that move nothing.
void add_numbers(Expansion& e, const Program& program, const SawState& about, Workplace place,
                 std::span<const Dual> slides) {
  e.block.numbers = parameters_of(about);
  for (std::size_t k = 0; k < e.block.numbers.size(); ++k) {
    const auto c = column(e, saw::planes_when_slid<Dual>(program, moving(about, k, 1), slides, place));
    if (std::all_of(c.begin(), c.end(), [](double row) { return row == 0; })) continue;
    e.block.moving_number.push_back(k);
    append(e, c);
  }
}

void add_products(Expansion& e, const Program& program, const SawState& about, Workplace place,
                  std::span<const Dual> slides) {
  const auto products = products_of(program, about, place);
  for (std::size_t k = 0; k < products.size(); ++k) {
    if (products[k].empty()) continue;
    StateOf<Dual> s = standing_still(about);
    Dual& acting = *acting_on_parts(s, place, program.stops.size())[k];
    acting.d = 1;
    acting.d = 1 / seen_slopes(program, s, place)[k];  // what is seen changes by 1
    append(e, column(e, saw::planes_when_slid<Dual>(program, s, slides, place)));
    e.block.products.push_back(products[k]);
  }
}

void add_slides(Expansion& e, const Program& program, const SawState& about, Workplace place,
                std::vector<Dual> slides) {
  for (Dual& s : slides) {
    s.d = 1;
    append(e, column(e, saw::planes_when_slid<Dual>(program, standing_still(about), slides, place)));
    s.d = 0;
  }
}

}  // namespace

FirstOrderBlock first_order(const Program& program, const SawState& about, Workplace place) {
  const NominalRun run = run_of(program, about, place);
  const auto nominal = saw::planes_when_slid<double>(program, about, run.slides, place);
  Expansion e;
  for (std::size_t i = 0; i < program.cuts.size(); ++i) e.touches.push_back(touch_of(nominal, run.corners[i], i));
  e.block.nominal = saw::cut(program, about, place);
  lay_out_rows(e);
  const std::vector<Dual> slides(run.slides.begin(), run.slides.end());
  add_numbers(e, program, about, place, slides);
  add_products(e, program, about, place, slides);
  add_slides(e, program, about, place, slides);
  return e.block;
}

namespace {

void add(std::vector<double>& rows, double k, const double* column) {
  for (std::size_t r = 0; r < rows.size(); ++r) rows[r] += k * column[r];
}

// Of the game [[a, b], [c, d]]: the rows' player wants much, the columns' player little.
double value_of_game(double a, double b, double c, double d) {
  const double at_least = std::max(std::min(a, b), std::min(c, d));
  const double at_most = std::min(std::max(a, c), std::max(b, d));
  return at_least < at_most ? (a * d - b * c) / (a + d - b - c) : at_least;
}

// An end in several planes that hold an edge or a face: where two of them cross between the ends may touch first. One
// of the players has two choices, so the other needs no more than two of his.
double mixed_change(const FirstOrderSlide& s, const double* row) {
  double most = -INFINITY;
  for (std::size_t i = 0; i < s.ends; ++i)
    for (std::size_t j = i + 1; j < s.ends; ++j) {
      double least = INFINITY;
      const double *p = row + i * s.bases, *q = row + j * s.bases;
      for (std::size_t k = 0; k < s.bases; ++k)
        for (std::size_t l = k + 1; l < s.bases; ++l) least = std::min(least, value_of_game(p[k], p[l], q[k], q[l]));
      most = std::max(most, least);
    }
  return most;
}

double slide_change(const FirstOrderSlide& s, const double* row) {
  if (s.bases == 1) return *std::max_element(row, row + s.ends);
  if (s.ends == 1) return *std::min_element(row, row + s.bases);
  return mixed_change(s, row);
}

const double* add_numbers(const FirstOrderBlock& block, std::span<const double> x, BlockChange& out) {
  assert(x.size() == block.numbers.size());
  out.rows.assign(block.rows, 0);
  const double* column = block.columns.data();
  for (std::size_t k : block.moving_number) {
    add(out.rows, x[k], column);
    column += block.rows;
  }
  return column;
}

// In order: each slide needs those before it.
void add_slides(const FirstOrderBlock& block, const double* column, BlockChange& out) {
  out.slides.resize(block.slides.size());
  for (std::size_t i = 0; i < block.slides.size(); ++i) {
    out.slides[i] = slide_change(block.slides[i], out.rows.data() + block.slides[i].first_row);
    add(out.rows, out.slides[i], column);
    column += block.rows;
  }
}

}  // namespace

void change(const FirstOrderBlock& block, std::span<const double> x, BlockChange& out) {
  const double* column = add_numbers(block, x, out);
  add_slides(block, column + block.products.size() * block.rows, out);
}

void change_with_products(const FirstOrderBlock& block, std::span<const double> x, BlockChange& out) {
  const double* column = add_numbers(block, x, out);
  for (const auto& products : block.products) {
    double sum = 0;
    for (const FirstOrderProduct& p : products) sum += p.coefficient * x[p.number] * x[p.other];
    add(out.rows, sum, column);
    column += block.rows;
  }
  add_slides(block, column, out);
}

}  // namespace stickwright
