#include "support/real_gluing.h"

#include <Eigen/Dense>
#include <cassert>
#include <cmath>
#include <functional>
#include <optional>

namespace stickwright::real {
namespace {

constexpr double kArm = 10;     // mm: turns count as what they move at this distance
constexpr double kStep = 1e-4;  // mm, of numerical derivatives
constexpr double kIndependent = 1e-3;
constexpr double kSolved = 1e-13;  // mm

using Vector6 = Eigen::Matrix<double, 6, 1>;

struct Frame {
  Point at, right, up, normal;
};

Frame moved(const Placement& by, const Frame& f) {
  const Placement turn{by.row, {}};
  return {by * f.at, turn * f.right, turn * f.up, turn * f.normal};
}

Plane moved(const Placement& by, const Plane& p) {
  const Point n = Placement{by.row, {}} * p.n;
  return {n, p.c + dot(n, by.shift)};
}

Point unit(Point v) {
  return (1 / length(v)) * v;
}

// How far along n the plane stands above the point x.
double height(const Plane& p, Point n, Point x) {
  return (p.c - dot(p.n, x)) / dot(p.n, n);
}

std::vector<Point> exact_loop(const StandingFace& f, double unit_mm) {
  std::vector<Point> out;
  for (Vec v : f.loop) out.push_back(in_mm({v, 1}, unit_mm));
  return out;
}

Point mean(const std::vector<Point>& points) {
  Point sum;
  for (Point p : points) sum = sum + p;
  return (1.0 / static_cast<double>(points.size())) * sum;
}

// The faces on the other side of a face's edges: an edge is where two faces share two corners.
std::vector<std::size_t> across_edges(const StandingBlock& b, std::size_t face) {
  const std::vector<Vec>& loop = b.faces[face].loop;
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < loop.size(); ++i)
    for (std::size_t g = 0; g < b.faces.size(); ++g) {
      const auto holds = [&](Vec v) { return dot(b.faces[g].plane.n, v) == b.faces[g].plane.c; };
      if (g != face && holds(loop[i]) && holds(loop[(i + 1) % loop.size()])) out.push_back(g);
    }
  assert(out.size() == loop.size());
  return out;
}

// The shortest turn from one direction to another.
Placement turn_onto(Point from, Point to) {
  const Point axis = cross(from, to);
  const double sine = length(axis);
  if (sine == 0) return {};
  return turn_about({}, std::atan2(sine, dot(from, to)) / sine * axis);
}

// The frame, carried along when the exact face of the block is laid onto the real one, outline to outline.
Frame laid_on(const StandingBlock& b, const RealBlock& real, std::size_t face, const Frame& exact, double unit_mm) {
  const Plane& plane = real.planes[face];
  const Point n = direction(b.faces[face].plane.n);
  const std::vector<Point> loop = exact_loop(b.faces[face], unit_mm);
  const std::vector<std::size_t> others = across_edges(b, face);
  const Placement tilt = turn_onto(n, plane.n);
  Placement lay{tilt.row, exact.at - Placement{tilt.row, {}} * exact.at};
  lay.shift = lay.shift + (plane.c - dot(plane.n, exact.at)) * plane.n;
  for (int round = 0; round < 8; ++round) {
    const Frame now = moved(lay, exact);
    const Point right = unit(now.right - dot(now.right, plane.n) * plane.n), up = cross(plane.n, right);
    Eigen::Matrix3d squares = Eigen::Matrix3d::Zero();
    Eigen::Vector3d pull = Eigen::Vector3d::Zero();
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Plane& m = real.planes[others[i]];
      const Point within = m.n - dot(m.n, plane.n) * plane.n;
      const double slope = length(within);
      for (Point corner : {loop[i], loop[(i + 1) % loop.size()]}) {
        const Point p = lay * corner;
        const double beyond = (dot(m.n, p) - m.c) / slope;
        const Point out = (1 / slope) * within, arm = p - now.at;
        const Eigen::Vector3d row(dot(out, right), dot(out, up), dot(out, cross(plane.n, arm)));
        squares += row * row.transpose();
        pull -= beyond * row;
      }
    }
    const Eigen::Vector3d x = squares.ldlt().solve(pull);
    lay = turn_about(now.at, x[2] * plane.n) * lay;
    lay.shift = lay.shift + x[0] * right + x[1] * up;
    if (x.head<2>().norm() + kArm * std::abs(x[2]) < kSolved) break;
  }
  return moved(lay, exact);
}

// Conditions on where a block is put: each is met where it is 0, in mm.
using Conditions = std::function<Eigen::VectorXd(const Placement&)>;

Placement stepped(const Placement& from, Point about, const Vector6& x) {
  Placement p = turn_about(about, (1 / kArm) * Point{x[3], x[4], x[5]}) * from;
  p.shift = p.shift + Point{x[0], x[1], x[2]};
  return p;
}

Eigen::MatrixXd slopes(const Conditions& f, const Placement& at, Point about) {
  Eigen::MatrixXd out(f(at).size(), 6);
  for (int k = 0; k < 6; ++k) {
    Vector6 x = Vector6::Zero();
    x[k] = kStep;
    out.col(k) = (f(stepped(at, about, x)) - f(stepped(at, about, -x))) / (2 * kStep);
  }
  return out;
}

// The first conditions that do not depend on those before.
std::vector<int> independent(const Eigen::MatrixXd& rows) {
  std::vector<int> out;
  std::vector<Vector6> basis;
  for (int r = 0; r < rows.rows() && out.size() < 6; ++r) {
    Vector6 rest = rows.row(r).transpose();
    const double size = rest.norm();
    for (int pass = 0; pass < 2; ++pass)
      for (const Vector6& b : basis) rest -= rest.dot(b) * b;
    if (size < kIndependent || rest.norm() < kIndependent * size) continue;
    basis.push_back(rest.normalized());
    out.push_back(r);
  }
  assert(out.size() == 6);
  return out;
}

Placement solved(const Conditions& f, const std::vector<int>& which, Point about) {
  Placement p;
  for (int round = 0; round < 20; ++round) {
    const Eigen::VectorXd off = f(p);
    const Eigen::MatrixXd slope = slopes(f, p, about);
    Eigen::Matrix<double, 6, 6> m;
    Vector6 r;
    for (int k = 0; k < 6; ++k) m.row(k) = slope.row(which[k]), r[k] = off[which[k]];
    const Vector6 x = -m.fullPivLu().solve(r);
    p = stepped(p, about, x);
    if (x.norm() < 1e-12) break;
  }
  return p;
}

class Gluing {
 public:
  Gluing(const ClosedPuzzle& puzzle, const StandingPieceParts& piece, std::span<const RealBlock> blocks,
         const RealGlue& glue)
      : puzzle_(puzzle), piece_(piece), blocks_(blocks), glue_(glue), plates_(piece.datum.size()) {}

  std::vector<Placement> run() {
    put_.resize(blocks_.size());
    claim(0);
    for (std::size_t j = 0; j < piece_.joints.size(); ++j) {
      const auto b = static_cast<std::size_t>(piece_.joints[j].b - piece_.first_block);
      const Point about = mean(corners_of(exact(b).body));
      const std::vector<int> which = independent(slopes(conditions(j, true), {}, about));
      put_[b] = solved(conditions(j, false), which, about);
      claim(b);
    }
    return put_;
  }

 private:
  const StandingBlock& standing(std::size_t b) const {
    return puzzle_.blocks[static_cast<std::size_t>(piece_.first_block) + b];
  }
  RealBlock exact(std::size_t b) const {
    return exact_block(puzzle_, static_cast<std::size_t>(piece_.first_block) + b);
  }

  // Of the exact blocks, at no glue, which tells which conditions are independent; or of the real ones.
  Conditions conditions(std::size_t j, bool of_exact) const {
    const StandingJoint& joint = piece_.joints[j];
    const auto a = static_cast<std::size_t>(joint.a - piece_.first_block),
               b = static_cast<std::size_t>(joint.b - piece_.first_block);
    const auto fa = static_cast<std::size_t>(joint.face_a), fb = static_cast<std::size_t>(joint.face_b);
    const RealBlock real_a = of_exact ? exact(a) : blocks_[a], real_b = of_exact ? exact(b) : blocks_[b];
    const Placement put_a = of_exact ? Placement{} : put_[a];
    const Frame frame = exact_frame(joint, standing(a));
    const Plane plane_a = moved(put_a, real_a.planes[fa]);
    const Frame frame_a = moved(put_a, laid_on(standing(a), real_a, fa, frame, puzzle_.unit_mm));
    const Frame frame_b = laid_on(standing(b), real_b, fb, frame, puzzle_.unit_mm);
    const double line = of_exact ? 0 : glue_.line[j];
    const double right = of_exact ? 0 : glue_.right[j], up = of_exact ? 0 : glue_.up[j];
    const double turn = of_exact ? 0 : glue_.turn[j];
    const auto on_plates = plate_conditions(b, of_exact, frame.normal);
    return [=](const Placement& put) {
      std::vector<double> off;
      const Plane plane_b = moved(put, real_b.planes[fb]);
      off.push_back(-plane_b.c - plane_a.c - line);
      off.push_back(kArm * dot(plane_b.n, frame_a.right));
      off.push_back(kArm * dot(plane_b.n, frame_a.up));
      for (const auto& f : on_plates) off.push_back(f(put));
      const Frame here = moved(put, frame_b);
      off.push_back(dot(here.at - frame_a.at, frame_a.right) - right);
      off.push_back(dot(here.at - frame_a.at, frame_a.up) - up);
      off.push_back(kArm * (std::asin(dot(here.right, frame_a.up)) - turn));
      return Eigen::VectorXd(Eigen::Map<Eigen::VectorXd>(off.data(), static_cast<Eigen::Index>(off.size())));
    };
  }

  std::vector<std::function<double(const Placement&)>> plate_conditions(std::size_t b, bool of_exact,
                                                                        Point joint_normal) const {
    std::vector<std::function<double(const Placement&)>> out;
    for (std::size_t d = 0; d < piece_.datum.size(); ++d)
      for (std::size_t f = 0; f < standing(b).faces.size(); ++f) {
        const StandingFace& face = standing(b).faces[f];
        if (!plates_[d] || face.plane != piece_.datum[d]) continue;
        const Point n = direction(face.plane.n);
        const Point middle = mean(exact_loop(face, puzzle_.unit_mm)), line = cross(n, joint_normal);
        const Plane own = of_exact ? exact(b).planes[f] : blocks_[b].planes[f];
        const Plane plate = of_exact ? own : *plates_[d];
        const double slip = of_exact ? 0 : glue_.plate[b][d];
        out.push_back(
            [=](const Placement& put) { return height(moved(put, own), n, middle) - height(plate, n, middle) - slip; });
        out.push_back([=](const Placement& put) {
          const Plane here = moved(put, own);
          return kArm * (dot(here.n, line) / dot(here.n, n) - dot(plate.n, line) / dot(plate.n, n));
        });
      }
    return out;
  }

  Frame exact_frame(const StandingJoint& joint, const StandingBlock& a) const {
    std::vector<Point> corners;
    for (const Spot& s : joint.corners) corners.push_back(in_mm(s, puzzle_.unit_mm));
    Frame f;
    f.at = mean(corners);
    f.normal = direction(a.faces[static_cast<std::size_t>(joint.face_a)].plane.n);
    f.right = unit(corners[0] - f.at);
    f.up = cross(f.normal, f.right);
    return f;
  }

  void claim(std::size_t b) {
    for (std::size_t d = 0; d < piece_.datum.size(); ++d)
      for (std::size_t f = 0; f < standing(b).faces.size(); ++f)
        if (!plates_[d] && standing(b).faces[f].plane == piece_.datum[d])
          plates_[d] = moved(put_[b], blocks_[b].planes[f]);
  }

  const ClosedPuzzle& puzzle_;
  const StandingPieceParts& piece_;
  std::span<const RealBlock> blocks_;
  const RealGlue& glue_;
  std::vector<std::optional<Plane>> plates_;
  std::vector<Placement> put_;
};

}  // namespace

Placement turn_about(Point center, Point by) {
  const Eigen::Vector3d v(by.a, by.b, by.t);
  const double angle = v.norm();
  Eigen::Matrix3d r = Eigen::Matrix3d::Identity();
  if (angle > 0) r = Eigen::AngleAxisd(angle, v / angle).toRotationMatrix();
  Placement p;
  for (int i = 0; i < 3; ++i) p.row[i] = {r(i, 0), r(i, 1), r(i, 2)};
  p.shift = center - Placement{p.row, {}} * center;
  return p;
}

std::vector<Placement> glued(const ClosedPuzzle& puzzle, const StandingPieceParts& piece,
                             std::span<const RealBlock> blocks, const RealGlue& glue) {
  return Gluing(puzzle, piece, blocks, glue).run();
}

std::vector<RealGlue> drawn_glue(const ClosedPuzzle& puzzle, const PuzzleErrors& errors,
                                 std::span<const double> values) {
  std::vector<RealGlue> out;
  std::size_t k = 0;
  const auto next = [&](const char* name) {
    while (!errors.numbers[k].key.empty()) ++k;
    assert(errors.numbers[k].name == name), (void)name;
    return values[++k];
  };
  for (const StandingPieceParts& piece : puzzle.pieces) {
    RealGlue g;
    for (std::size_t j = 0; j < piece.joints.size(); ++j) {
      g.line.push_back(next("glue line"));
      g.right.push_back(next("block put by hand"));
      g.up.push_back(next("block put by hand"));
      g.turn.push_back(next("block turned by hand"));
    }
    g.plate.assign(static_cast<std::size_t>(piece.blocks), std::vector<double>(piece.datum.size(), 0));
    for (std::size_t b = 0; b < g.plate.size(); ++b)
      for (std::size_t d = 0; d < piece.datum.size(); ++d)
        for (const StandingFace& f : puzzle.blocks[static_cast<std::size_t>(piece.first_block) + b].faces)
          if (f.plane == piece.datum[d]) g.plate[b][d] = next("block against a plate");
    out.push_back(std::move(g));
  }
  return out;
}

std::vector<RealBlock> real_puzzle(const ClosedPuzzle& puzzle, const ShopKnown& shop, const PuzzleErrors& errors,
                                   std::span<const double> values) {
  std::vector<RealBlock> out;
  for (std::size_t b = 0; b < puzzle.blocks.size(); ++b) out.push_back(sawn(puzzle, b, shop, errors, values));
  const std::vector<RealGlue> glue = drawn_glue(puzzle, errors, values);
  for (std::size_t p = 0; p < puzzle.pieces.size(); ++p) {
    const StandingPieceParts& piece = puzzle.pieces[p];
    const auto first = static_cast<std::size_t>(piece.first_block);
    const auto put =
        glued(puzzle, piece, std::span(out).subspan(first, static_cast<std::size_t>(piece.blocks)), glue[p]);
    for (std::size_t b = 0; b < put.size(); ++b) out[first + b] = moved(put[b], out[first + b]);
  }
  return out;
}

}  // namespace stickwright::real
