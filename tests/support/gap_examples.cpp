#include "support/gap_examples.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <tuple>

namespace stickwright::test {
namespace {

constexpr double kCell = 16;  // mm

double uniform(std::mt19937_64& random) {
  return (static_cast<double>(random() >> 11) + 0.5) / 9007199254740992.0;
}

Point random_unit(std::mt19937_64& random) {
  const Point p{normal_draw(random), normal_draw(random), normal_draw(random)};
  return 1 / length(p) * p;
}

Point across(Point n) {  // some unit vector at right angles
  const Point other = std::abs(n.a) < 0.6 ? Point{1, 0, 0} : Point{0, 1, 0};
  const Point c = cross(n, other);
  return 1 / length(c) * c;
}

Point axis(int k, double v = 1) {
  return {k == 0 ? v : 0, k == 1 ? v : 0, k == 2 ? v : 0};
}

// A square of the plane across axis k, around p, from -half to +half along the two others (scaled).
std::vector<Point> rectangle(Point p, int k, double half_u, double half_v) {
  const Point u = axis((k + 1) % 3, half_u), v = axis((k + 2) % 3, half_v);
  return {p - u - v, p + u - v, p + u + v, p - u + v};
}

// Corners of the convex hull of points in a plane across axis k (monotone chain).
std::vector<Point> hull(std::vector<Point> points, int k) {
  const auto flat = [k](Point p) {
    const std::array<double, 3> c = {p.a, p.b, p.t};
    return std::pair(c[(k + 1) % 3], c[(k + 2) % 3]);
  };
  const auto turn = [&](Point a, Point b, Point c) {
    const auto [ax, ay] = flat(a);
    const auto [bx, by] = flat(b);
    const auto [cx, cy] = flat(c);
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  };
  std::sort(points.begin(), points.end(), [&](Point p, Point q) { return flat(p) < flat(q); });
  points.erase(std::unique(points.begin(), points.end()), points.end());
  std::vector<Point> out;
  for (int side = 0; side < 2; ++side) {
    const std::size_t first = out.size();
    for (Point p : points) {
      while (out.size() >= first + 2 && turn(out[out.size() - 2], out.back(), p) <= 0) out.pop_back();
      out.push_back(p);
    }
    out.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return out;
}

}  // namespace

double normal_draw(std::mt19937_64& random) {
  return std::sqrt(-2 * std::log(uniform(random))) * std::cos(2 * std::numbers::pi * uniform(random));
}

std::vector<double> GapExample::sample(std::mt19937_64& random) const {
  Eigen::VectorXd e(effect.cols());
  for (double& v : e) v = normal_draw(random);
  const Eigen::VectorXd h = nominal + effect * e;
  return {h.data(), h.data() + h.size()};
}

std::vector<double> GapExample::samples(std::size_t count, std::uint64_t seed) const {
  std::mt19937_64 random(seed);
  std::vector<double> all;
  for (std::size_t i = 0; i < count; ++i) {
    const auto h = sample(random);
    all.insert(all.end(), h.begin(), h.end());
  }
  return all;
}

GapExample of_areas(std::string name, std::vector<Point> centers, const std::vector<ContactArea>& areas,
                    double allowance_mm, FaceErrors errors) {
  GapExample g{std::move(name), {static_cast<int>(centers.size()), std::move(centers), {}}, {}, {}};
  std::size_t rows = 0;
  for (const ContactArea& a : areas) rows += a.corners.size();
  g.nominal = Eigen::VectorXd::Constant(static_cast<Eigen::Index>(rows), allowance_mm);
  g.effect = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(rows), static_cast<Eigen::Index>(3 * areas.size()));
  for (std::size_t k = 0; k < areas.size(); ++k) {
    const ContactArea& a = areas[k];
    Point middle;
    for (Point p : a.corners) middle = middle + 1.0 / static_cast<double>(a.corners.size()) * p;
    const Point u = across(a.normal), v = cross(a.normal, u);
    for (Point p : a.corners) {
      const Eigen::Index r = static_cast<Eigen::Index>(g.rows.rows.size()), e = static_cast<Eigen::Index>(3 * k);
      g.effect(r, e) = errors.place_mm;
      g.effect(r, e + 1) = errors.turn_rad * dot(u, p - middle);
      g.effect(r, e + 2) = errors.turn_rad * dot(v, p - middle);
      g.rows.rows.push_back({a.from, a.to, a.normal, p});
    }
  }
  return g;
}

GapExample random_areas(int bodies, int areas, std::uint64_t seed, FaceErrors errors, double spread_mm) {
  std::mt19937_64 random(seed);
  const auto spot = [&](double reach) {
    return reach * Point{2 * uniform(random) - 1, 2 * uniform(random) - 1, 2 * uniform(random) - 1};
  };
  std::vector<Point> centers;
  for (int i = 0; i < bodies; ++i) centers.push_back(spot(20));
  std::vector<ContactArea> all;
  for (int k = 0; k < areas; ++k) {
    // The first ones reach every body.
    const int from = k < bodies - 1 ? k + 1 : static_cast<int>(random() % bodies);
    const int to = (from + 1 + static_cast<int>(random() % (bodies - 1))) % bodies;
    const Point n = random_unit(random), u = across(n), v = cross(n, u);
    const Point middle = 0.5 * (centers[from] + centers[to]) + spot(10);
    const double a = 3 + 5 * uniform(random), b = 3 + 5 * uniform(random);
    all.push_back({from,
                   to,
                   n,
                   {middle - a * u - b * v, middle + a * u - b * v, middle + a * u + b * v, middle - a * u + b * v}});
  }
  GapExample g = of_areas("random areas, " + std::to_string(bodies) + " bodies", centers, all, 0.05, errors);
  for (double& v : g.nominal) v += spread_mm * uniform(random);
  return g;
}

GapExample cubes_in_box(int n, FaceErrors errors) {
  std::vector<Point> centers = {{0, 0, 0}};
  const auto body = [n](std::array<int, 3> c) {
    for (int x : c)
      if (x < 0 || x >= n) return 0;
    return 1 + c[0] + n * (c[1] + n * c[2]);
  };
  const auto middle = [n](std::array<int, 3> c) {
    const double off = 0.5 * (n - 1);
    return kCell * Point{c[0] - off, c[1] - off, c[2] - off};
  };
  std::vector<ContactArea> all;
  for (int z = 0; z < n; ++z)
    for (int y = 0; y < n; ++y)
      for (int x = 0; x < n; ++x) {
        const std::array<int, 3> c = {x, y, z};
        centers.push_back(middle(c));
        for (int k = 0; k < 3; ++k)
          for (int side : {-1, 1}) {
            std::array<int, 3> d = c;
            d[k] += side;
            if (body(d) != 0 && side < 0) continue;
            const Point face = middle(c) + axis(k, 0.5 * side * kCell), half = axis((k + 1) % 3, 0.25 * kCell);
            for (int part : {-1, 1})
              all.push_back({body(c), body(d), axis(k, side),
                             rectangle(face + static_cast<double>(part) * half, k, 0.24 * kCell, 0.48 * kCell)});
          }
      }
  return of_areas("cubes in a box, " + std::to_string(n) + " along", centers, all, 0.05, errors);
}

GapExample ring_of_cubes(int along, FaceErrors errors) {
  std::vector<std::pair<int, int>> spots;
  const auto ring = [along](int x, int y) {
    return x >= 0 && y >= 0 && x < along && y < along && (x == 0 || y == 0 || x == along - 1 || y == along - 1);
  };
  std::map<std::pair<int, int>, int> body;
  std::vector<Point> centers = {{0, 0, 0}};
  for (int x = 0; x < along; ++x)
    for (int y = 0; y < along; ++y)
      if (ring(x, y)) {
        body[{x, y}] = static_cast<int>(centers.size());
        centers.push_back({kCell * x, kCell * y, 0});
      }
  std::vector<ContactArea> all;
  for (const auto& [at, id] : body)
    for (int k = 0; k < 2; ++k)
      for (int side : {-1, 1}) {
        const std::pair<int, int> next = {at.first + (k == 0 ? side : 0), at.second + (k == 1 ? side : 0)};
        const int other = body.contains(next) ? body[next] : 0;
        if (other != 0 && side < 0) continue;
        all.push_back({id, other, axis(k, side),
                       rectangle(centers[id] + axis(k, 0.5 * side * kCell), k, 0.5 * kCell, 0.5 * kCell)});
      }
  return of_areas("ring of cubes", centers, all, 0.05, errors);
}

GapExample grown_pieces(int pieces, int side, std::uint64_t seed, FaceErrors errors) {
  std::mt19937_64 random(seed);
  const auto cell = [side](int x, int y, int z) { return x + side * (y + side * z); };
  std::vector<int> owner(static_cast<std::size_t>(side * side * side), -1);
  const auto spread = [&](auto&& visit) {
    for (int z = 0; z < side; ++z)
      for (int y = 0; y < side; ++y)
        for (int x = 0; x < side; ++x)
          for (int k = 0; k < 3; ++k) {
            const std::array<int, 3> d = {x + (k == 0), y + (k == 1), z + (k == 2)};
            if (d[k] < side) visit(cell(x, y, z), cell(d[0], d[1], d[2]), k, std::array<int, 3>{x, y, z});
          }
  };
  for (int p = 0; p < pieces;)
    if (int& o = owner[random() % owner.size()]; o < 0) o = p++;
  for (bool open = true; open;) {
    std::vector<std::pair<int, int>> ways;
    spread([&](int a, int b, int, std::array<int, 3>) {
      if (owner[a] >= 0 && owner[b] < 0) ways.push_back({b, owner[a]});
      if (owner[b] >= 0 && owner[a] < 0) ways.push_back({a, owner[b]});
    });
    open = !ways.empty();
    if (open) {
      const auto way = ways[random() % ways.size()];
      owner[way.first] = way.second;
    }
  }
  std::vector<Point> centers(static_cast<std::size_t>(pieces));
  std::vector<int> cells(static_cast<std::size_t>(pieces));
  for (int z = 0; z < side; ++z)
    for (int y = 0; y < side; ++y)
      for (int x = 0; x < side; ++x) {
        const int o = owner[cell(x, y, z)];
        centers[o] = centers[o] + kCell * Point{x + 0.5, y + 0.5, z + 0.5};
        ++cells[o];
      }
  for (int p = 0; p < pieces; ++p) centers[p] = 1.0 / cells[p] * centers[p];
  std::map<std::tuple<int, int, int, int>, std::vector<Point>> planes;  // from, to, axis, place
  spread([&](int a, int b, int k, std::array<int, 3> at) {
    if (owner[a] == owner[b]) return;
    const Point middle = kCell * Point{at[0] + 0.5, at[1] + 0.5, at[2] + 0.5} + axis(k, 0.5 * kCell);
    auto& list = planes[{owner[a], owner[b], k, at[k]}];
    for (Point p : rectangle(middle, k, 0.5 * kCell, 0.5 * kCell)) list.push_back(p);
  });
  std::vector<ContactArea> all;
  for (const auto& [key, points] : planes)
    all.push_back({std::get<0>(key), std::get<1>(key), axis(std::get<2>(key)), hull(points, std::get<2>(key))});
  return of_areas("grown pieces, " + std::to_string(pieces) + " of " + std::to_string(side) + "^3", centers, all, 0.05,
                  errors);
}

}  // namespace stickwright::test
