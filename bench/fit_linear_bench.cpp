// How far the fit to first order is from real blocks, real gluing and real motions, by the size of the errors: a table,
// and the picture docs/images/fit-linear.svg. fit_linear_bench [puzzles of each size [picture]]
#include <fmt/core.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>

#include "fit/nonlinear.h"

namespace stickwright {
namespace {

constexpr double kSizes[] = {0.0125, 0.025, 0.05, 0.1, 0.2};  // mm

struct Curve {
  std::string name;
  std::vector<double> mean_um, most_um;  // by size
};

Curve measure(const known::FitPuzzle& p, int puzzles) {
  Curve c{p.name, {}, {}};
  const FitProgram program(p.gaps.rows);
  for (double size : kSizes) {
    double sum = 0, most = 0;
    for (int k = 1; k <= puzzles; ++k) {
      const auto values = known::drawn_errors(p, static_cast<std::uint64_t>(k), size);
      const BothWays b = both_ways(p, program, values, 2 * size);
      sum += std::abs(b.linear_mm - b.real_mm), most = std::max(most, std::abs(b.linear_mm - b.real_mm));
    }
    c.mean_um.push_back(1e3 * sum / puzzles), c.most_um.push_back(1e3 * most);
  }
  return c;
}

double exponent(const Curve& c) {
  double n = 0, x = 0, y = 0, xx = 0, xy = 0;
  for (std::size_t k = 0; k < c.mean_um.size(); ++k) {
    const double u = std::log(kSizes[k]), v = std::log(c.mean_um[k]);
    n += 1, x += u, y += v, xx += u * u, xy += u * v;
  }
  return (n * xy - x * y) / (n * xx - x * x);
}

// Logarithmic on both sides: 10 to 400 um across, 0.001 to 10 um up.
constexpr double kLeft = 90, kBottom = 330, kDecadeX = 230, kDecadeY = 72;
double across(double size_mm) {
  return kLeft + kDecadeX * std::log10(1e3 * size_mm / 10);
}
double up(double um) {
  return kBottom - kDecadeY * std::log10(um / 1e-3);
}

void draw(const std::vector<Curve>& curves, std::ostream& out) {
  constexpr const char* kDash[] = {"none", "8 4", "2 3", "10 3 2 3"};
  out << "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"480\" height=\"390\" viewBox=\"0 0 480 390\" "
         "font-family=\"DejaVu Sans, sans-serif\" font-size=\"12\" fill=\"#333\">\n"
         "<rect width=\"480\" height=\"390\" fill=\"#fff\"/>\n";
  const auto line = [&](double x, double y, double x2, double y2, const char* style) {
    out << fmt::format("<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" {}/>\n", x, y, x2, y2, style);
  };
  const auto text = [&](double x, double y, const char* anchor, const std::string& what) {
    out << fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>\n", x, y, anchor, what);
  };
  for (double um : {0.001, 0.01, 0.1, 1.0, 10.0}) {
    line(kLeft, up(um), across(0.3), up(um), "stroke=\"#ddd\"");
    text(kLeft - 8, up(um) + 4, "end", fmt::format("{:g}", um));
  }
  for (double size : kSizes) {
    line(across(size), up(1e-3), across(size), up(10), "stroke=\"#ddd\"");
    text(across(size), kBottom + 18, "middle", fmt::format("{:g}", 1e3 * size));
  }
  text(kLeft, 22, "start", "mean difference of the play, to first order and real, &#181;m");
  text(across(0.3), kBottom + 38, "end", "face that is off most, &#181;m");
  line(across(0.0125), up(0.05 / 16), across(0.2), up(0.05 * 16), "stroke=\"#bbb\" stroke-width=\"6\"");
  text(across(0.2) + 8, up(0.05 * 16) + 14, "start", "a square");
  for (std::size_t c = 0; c < curves.size(); ++c) {
    std::string points;
    for (std::size_t k = 0; k < curves[c].mean_um.size(); ++k)
      points += fmt::format("{:.1f},{:.1f} ", across(kSizes[k]), up(curves[c].mean_um[k]));
    out << fmt::format(
        "<polyline points=\"{}\" fill=\"none\" stroke=\"#333\" stroke-width=\"1.5\" "
        "stroke-dasharray=\"{}\"/>\n",
        points, kDash[c % 4]);
    const double y = 48 + 18 * static_cast<double>(c);
    out << fmt::format(
        "<line x1=\"110\" y1=\"{0}\" x2=\"150\" y2=\"{0}\" stroke=\"#333\" stroke-width=\"1.5\" "
        "stroke-dasharray=\"{1}\"/>\n",
        y - 4, kDash[c % 4]);
    text(158, y, "start", curves[c].name);
  }
  out << "</svg>\n";
}

}  // namespace
}  // namespace stickwright

int main(int count, char** argument) {
  using namespace stickwright;
  const int puzzles = count > 1 ? std::atoi(argument[1]) : 40;
  std::vector<Curve> curves;
  for (const known::FitPuzzle& p : {planned_star(), cut_core(2, 3), cut_core(3, 1), cut_core(4, 2)}) {
    curves.push_back(measure(p, puzzles));
    fmt::print("{}, exponent {:.2f}\n", p.name, exponent(curves.back()));
    for (std::size_t k = 0; k < std::size(kSizes); ++k)
      fmt::print("  {:5.1f} um: mean {:.4f} um, most {:.4f} um\n", 1e3 * kSizes[k], curves.back().mean_um[k],
                 curves.back().most_um[k]);
    std::fflush(stdout);
  }
  if (count > 2) {
    std::ofstream picture(argument[2]);
    draw(curves, picture);
  }
}
