#include "support/real_closing.h"

#include <ClpSimplex.hpp>
#include <CoinPackedMatrix.hpp>
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

namespace stickwright::real {
namespace {

constexpr double kNear = 2;       // mm: corners farther from a contact's plane have no say in it
constexpr double kDone = 1e-10;   // mm
constexpr double kLongest = 0.5;  // mm, of one step
constexpr double kMoving = 1e-6;  // of play, that a piece or a plane gives up rather than move by as much

struct Between {
  double gap = 0;
  Point n;
};

double extent(const std::vector<Point>& points, Point n) {
  double most = -std::numeric_limits<double>::infinity();
  for (Point p : points) most = std::max(most, dot(n, p));
  return most;
}

double between(const std::vector<Point>& a, const std::vector<Point>& b, Point n) {
  return -extent(b, Point{} - n) - extent(a, n);
}

// Each once, up to its sign.
std::vector<Point> edges_of(const Body& body) {
  std::vector<Point> out;
  for (const BodyFace& f : body.faces)
    for (std::size_t i = 0; i < f.loop.size(); ++i) {
      const Point e = f.loop[(i + 1) % f.loop.size()] - f.loop[i];
      if (length(e) < 1e-9) continue;
      const Point u = (1 / length(e)) * e;
      if (std::none_of(out.begin(), out.end(), [&](Point v) { return length(cross(u, v)) < 1e-13; })) out.push_back(u);
    }
  return out;
}

double point_to_segment(Point p, Point a, Point b) {
  const Point d = b - a;
  const double along = std::clamp(dot(p - a, d) / dot(d, d), 0.0, 1.0);
  return length(p - (a + along * d));
}

struct Segment {
  Point from, to;
};

std::vector<Segment> segments_of(const Body& body) {
  std::vector<Segment> out;
  for (const BodyFace& f : body.faces)
    for (std::size_t i = 0; i < f.loop.size(); ++i) {
      const Segment s{f.loop[i], f.loop[(i + 1) % f.loop.size()]};
      if (length(s.to - s.from) > 1e-9) out.push_back(s);
    }
  return out;
}

double segment_to_segment(const Segment& a, const Segment& b) {
  double least = std::min({point_to_segment(a.from, b.from, b.to), point_to_segment(a.to, b.from, b.to),
                           point_to_segment(b.from, a.from, a.to), point_to_segment(b.to, a.from, a.to)});
  const Point u = a.to - a.from, v = b.to - b.from, w = b.from - a.from, n = cross(u, v);
  const double nn = dot(n, n);
  if (nn < 1e-20) return least;
  const double s = dot(cross(w, v), n) / nn, t = dot(cross(w, u), n) / nn;
  if (s >= 0 && s <= 1 && t >= 0 && t <= 1) least = std::min(least, std::abs(dot(w, n)) / std::sqrt(nn));
  return least;
}

// From a corner to a face that it lies above.
double point_to_face(Point p, const BodyFace& f) {
  const double above = dot(f.plane.n, p) - f.plane.c;
  if (above < 0) return std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < f.loop.size(); ++i) {
    const Point a = f.loop[i], b = f.loop[(i + 1) % f.loop.size()];
    if (dot(cross(f.plane.n, b - a), p - a) < 0) return std::numeric_limits<double>::infinity();
  }
  return above;
}

double distance(const Body& a, const Body& b) {
  double least = std::numeric_limits<double>::infinity();
  for (const auto& [x, y] : {std::pair(&a, &b), std::pair(&b, &a)})
    for (Point p : corners_of(*x))
      for (const BodyFace& f : y->faces) least = std::min(least, point_to_face(p, f));
  for (const Segment& s : segments_of(a))
    for (const Segment& t : segments_of(b)) least = std::min(least, segment_to_segment(s, t));
  return least;
}

// One contact: a plane that parts two blocks, n.(p - at) = c.
struct Parting {
  int piece_a = 0, piece_b = 0;
  std::vector<Point> a, b;  // corners near the contact, before the pieces are moved
  Point at, n;
};

// The rows of a linear program, entry by entry.
struct Rows {
  int play_at = 0;
  std::vector<int> row, column;
  std::vector<double> value, lower, upper;
  void add(int entries, const int* columns, const double* values, double low, double high) {
    for (int k = 0; k < entries; ++k) {
      entry(columns[k], values[k]);
      if (columns[k] < play_at) entry(play_at + 1 + columns[k], -values[k]);
    }
    lower.push_back(low), upper.push_back(high);
  }

  void entry(int c, double v) {
    row.push_back(static_cast<int>(lower.size()));
    column.push_back(c), value.push_back(v);
  }
};

Point somewhere_across(Point n) {
  const Point axis = std::abs(n.a) < 0.6 ? Point{1, 0, 0} : Point{0, 1, 0};
  const Point across = axis - dot(axis, n) * n;
  return (1 / length(across)) * across;
}

class Closer {
 public:
  Closer(const ClosedPuzzle& puzzle, std::span<const BlockContact> contacts, std::span<const RealBlock> blocks,
         double reach_mm, std::vector<Placement> start)
      : reach_(reach_mm), moved_(std::move(start)) {
    moved_.resize(puzzle.pieces.size());
    total_.assign(6 * puzzle.pieces.size(), 0);
    for (const StandingPieceParts& p : puzzle.pieces)
      centers_.push_back(middle_of_corners(blocks[static_cast<std::size_t>(p.first_block)].body));
    for (std::size_t p = 0; p < moved_.size(); ++p) note_start(p);
    for (const BlockContact& c : contacts) {
      const StandingBlock &a = puzzle.blocks[static_cast<std::size_t>(c.from)],
                          &b = puzzle.blocks[static_cast<std::size_t>(c.to)];
      Parting part{a.piece, b.piece, {}, {}, {}, direction(c.normal)};
      for (const Spot& s : c.corners)
        part.at = part.at + (1.0 / static_cast<double>(c.corners.size())) * in_mm(s, puzzle.unit_mm);
      const auto near = [&](const RealBlock& block) {
        std::vector<Point> out;
        for (Point p : corners_of(block.body))
          if (std::abs(dot(part.n, p - part.at)) < kNear) out.push_back(p);
        return out;
      };
      part.a = near(blocks[static_cast<std::size_t>(c.from)]);
      part.b = near(blocks[static_cast<std::size_t>(c.to)]);
      parts_.push_back(std::move(part));
    }
  }

  Closing run() {
    double here = -std::numeric_limits<double>::infinity(), step = std::min(reach_, kLongest), promised = 0;
    here = play(moved_, parts_);
    bool first = true;

    for (int round = 0; round < 60 && step > 1e-9; ++round) {
      const Step s = best_step(step);
      promised = s.play - here;
      if (!first && promised < kDone) break;
      std::vector<Placement> there = moved_;
      std::vector<Parting> tilted = parts_;
      take(s, there, tilted);
      const double now = play(there, tilted);
      // The planes still have to find their tilt in the first round.
      if (now > here + 0.1 * promised || (first && now > here)) {
        for (std::size_t k = 0; k < total_.size(); ++k) total_[k] += s.x[k];
        moved_ = std::move(there), parts_ = std::move(tilted), here = now;
        if (now > here + 0.7 * promised) step = std::min(2 * step, reach_);
      } else {
        step *= 0.3;
      }
      first = false;
    }
    double farthest = 0;
    for (double t : total_) farthest = std::max(farthest, std::abs(t));
    return {here, moved_, std::max(promised, 0.0), farthest};
  }

 private:
  struct Step {
    double play = 0;
    std::vector<double> x;     // [pieces][6] slide, turn times kTurnArm
    std::vector<double> tilt;  // [contacts][2]
  };

  static Point middle_of_corners(const Body& body) {
    Point sum;
    const auto corners = corners_of(body);
    for (Point p : corners) sum = sum + p;
    return (1.0 / static_cast<double>(corners.size())) * sum;
  }

  void note_start(std::size_t p) {
    const Placement& m = moved_[p];
    const Point slide = m * centers_[p] - centers_[p];
    const Point turn = {(m.row[2].b - m.row[1].t) / 2, (m.row[0].t - m.row[2].a) / 2, (m.row[1].a - m.row[0].b) / 2};
    const double x[] = {slide.a, slide.b, slide.t, kTurnArm * turn.a, kTurnArm * turn.b, kTurnArm * turn.t};
    std::copy(std::begin(x), std::end(x), total_.begin() + static_cast<std::ptrdiff_t>(6 * p));
  }

  static double play(const std::vector<Placement>& moved, const std::vector<Parting>& parts) {
    double least = std::numeric_limits<double>::infinity();
    for (const Parting& p : parts) {
      double low = std::numeric_limits<double>::infinity(), high = -low;
      for (Point q : p.b) low = std::min(low, dot(p.n, moved[static_cast<std::size_t>(p.piece_b)] * q - p.at));
      for (Point q : p.a) high = std::max(high, dot(p.n, moved[static_cast<std::size_t>(p.piece_a)] * q - p.at));
      least = std::min(least, low - high);
    }
    return least;
  }

  // Columns: 6 for each piece, forth; 3 for each contact: two tilts times kTurnArm, offset; the play; 6 for each piece,
  // back, and the tilts back. Moving costs a little, so that nothing moves that need not.
  Step best_step(double step) const {
    const std::size_t pieces = moved_.size(), plane_at = 6 * pieces, play_at = plane_at + 3 * parts_.size();
    const std::size_t columns = play_at + 1 + play_at;
    const auto back = [&](std::size_t k) { return play_at + 1 + k; };
    std::vector<double> least(columns, 0), most(columns, kLongest), cost(columns, kMoving);
    for (std::size_t k = 0; k < plane_at; ++k) {
      const bool held = k < 6;
      most[k] = held ? 0 : std::clamp(reach_ - total_[k], 0.0, step);
      most[back(k)] = held ? 0 : std::clamp(reach_ + total_[k], 0.0, step);
    }
    cost[play_at] = -1;
    least[play_at] = -100, most[play_at] = 100;
    Rows rows{static_cast<int>(play_at), {}, {}, {}, {}, {}};
    for (std::size_t c = 0; c < parts_.size(); ++c) {
      const Parting& p = parts_[c];
      const Point right = somewhere_across(p.n), up = cross(p.n, right);
      const auto add = [&](Point q, int piece, bool of_b) {
        const Placement& m = moved_[static_cast<std::size_t>(piece)];
        const Point x = m * q,
                    arm = x - (centers_[static_cast<std::size_t>(piece)] + shift_of(static_cast<std::size_t>(piece)));
        const Point moment = (1 / kTurnArm) * cross(arm, p.n);
        const auto first = static_cast<int>(plane_at + 3 * c);
        int col[10];
        double v[10] = {p.n.a,
                        p.n.b,
                        p.n.t,
                        moment.a,
                        moment.b,
                        moment.t,
                        dot(right, x - p.at) / kTurnArm,
                        dot(up, x - p.at) / kTurnArm,
                        -1,
                        -1};
        for (int k = 0; k < 6; ++k) col[k] = 6 * piece + k;
        for (int k = 0; k < 3; ++k) col[6 + k] = first + k;
        col[9] = static_cast<int>(play_at);
        const double at = dot(p.n, x - p.at);
        if (of_b)
          rows.add(10, col, v, -at, COIN_DBL_MAX);
        else
          rows.add(9, col, v, -COIN_DBL_MAX, -at);
      };
      for (Point q : p.b) add(q, p.piece_b, true);
      for (Point q : p.a) add(q, p.piece_a, false);
    }
    ClpSimplex lp;
    lp.setLogLevel(0);
    lp.loadProblem(CoinPackedMatrix(false, rows.row.data(), rows.column.data(), rows.value.data(),
                                    static_cast<CoinBigIndex>(rows.value.size())),
                   least.data(), most.data(), cost.data(), rows.lower.data(), rows.upper.data());
    lp.setPrimalTolerance(1e-11);
    lp.setDualTolerance(1e-11);
    lp.dual();
    Step s;
    std::vector<double> x(lp.primalColumnSolution(), lp.primalColumnSolution() + columns);
    for (std::size_t k = 0; k < play_at; ++k) x[k] -= x[back(k)];
    s.play = x[play_at];
    s.x.assign(x.begin(), x.begin() + static_cast<std::ptrdiff_t>(plane_at));
    for (std::size_t c = 0; c < parts_.size(); ++c)
      for (int k = 0; k < 2; ++k) s.tilt.push_back(x[plane_at + 3 * c + static_cast<std::size_t>(k)] / kTurnArm);
    return s;
  }

  Point shift_of(std::size_t piece) const { return moved_[piece] * centers_[piece] - centers_[piece]; }

  void take(const Step& s, std::vector<Placement>& there, std::vector<Parting>& tilted) const {
    for (std::size_t p = 0; p < there.size(); ++p) {
      const double* x = s.x.data() + 6 * p;
      const Point center = there[p] * centers_[p];
      there[p] = turn_about(center, (1 / kTurnArm) * Point{x[3], x[4], x[5]}) * there[p];
      there[p].shift = there[p].shift + Point{x[0], x[1], x[2]};
    }
    for (std::size_t c = 0; c < tilted.size(); ++c) {
      Parting& p = tilted[c];
      const Point right = somewhere_across(p.n), up = cross(p.n, right);
      const Point n = p.n + s.tilt[2 * c] * right + s.tilt[2 * c + 1] * up;
      p.n = (1 / length(n)) * n;
    }
  }

  double reach_;
  std::vector<Placement> moved_;
  std::vector<double> total_;
  std::vector<Point> centers_;
  std::vector<Parting> parts_;
};

}  // namespace

double separation(const Body& a, const Body& b) {
  const std::vector<Point> p = corners_of(a), q = corners_of(b);
  double most = -std::numeric_limits<double>::infinity();
  const auto look = [&](Point n) { most = std::max({most, between(p, q, n), between(p, q, Point{} - n)}); };
  for (const Body* x : {&a, &b})
    for (const BodyFace& f : x->faces) look(f.plane.n);
  const std::vector<Point> other = edges_of(b);
  for (Point u : edges_of(a))
    for (Point v : other)
      if (const Point n = cross(u, v); length(n) > 1e-9) look((1 / length(n)) * n);
  return most <= 0 ? most : distance(a, b);
}

Closing close_up(const ClosedPuzzle& puzzle, std::span<const BlockContact> contacts, std::span<const RealBlock> blocks,
                 double reach_mm, std::vector<Placement> start) {
  return Closer(puzzle, contacts, blocks, reach_mm, std::move(start)).run();
}

double smallest_separation(const ClosedPuzzle& puzzle, std::span<const BlockContact> contacts,
                           std::span<const RealBlock> blocks, std::span<const Placement> pieces) {
  double least = std::numeric_limits<double>::infinity();
  for (const BlockContact& c : contacts) {
    const auto real = [&](int b) {
      return moved(pieces[static_cast<std::size_t>(puzzle.blocks[static_cast<std::size_t>(b)].piece)],
                   blocks[static_cast<std::size_t>(b)])
          .body;
    };
    least = std::min(least, separation(real(c.from), real(c.to)));
  }
  return least;
}

}  // namespace stickwright::real
