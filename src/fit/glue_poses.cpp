#include "fit/glue_poses.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace stickwright {
namespace {

using Six = Eigen::Matrix<double, 6, 1>;

constexpr double kIndependent = 1e-6;  // of a unit row: what is left of it beside the rows before

// One condition on a pose: row . (slide, turn) = is. Turns count times `scale_mm`, so that rows compare.
struct Condition {
  Six row;
  Form is;
};

Six row_along(Point u, Point arm, double scale_mm) {
  const Point moment = cross(arm, u);
  Six r;
  r << u.a, u.b, u.t, moment.a / scale_mm, moment.b / scale_mm, moment.t / scale_mm;
  return r;
}
Six row_about(Point axis, double scale_mm) {
  Six r;
  r << 0, 0, 0, axis.a / scale_mm, axis.b / scale_mm, axis.t / scale_mm;
  return r;
}

// The pose that meets the first six independent conditions.
class PoseSolver {
 public:
  PoseSolver(Point center, double scale_mm) : center_(center), scale_mm_(scale_mm) {}

  Point center() const { return center_; }
  double scale_mm() const { return scale_mm_; }
  void require(const Six& row, Form is) {
    if (count_ == 6) return;
    Six rest = row.normalized();
    for (int pass = 0; pass < 2; ++pass)
      for (int k = 0; k < count_; ++k) rest -= rest.dot(basis_[k]) * basis_[k];
    if (rest.norm() < kIndependent) return;
    basis_[count_] = rest.normalized();
    rows_.row(count_) = row.transpose();
    is_[count_++] = std::move(is);
  }
  BlockPose pose() const {
    assert(count_ == 6);
    const Eigen::Matrix<double, 6, 6> inverse = rows_.inverse();
    std::array<Form, 6> x;
    for (int i = 0; i < 6; ++i)
      for (int k = 0; k < 6; ++k) x[i].add(inverse(i, k) / (i < 3 ? 1 : scale_mm_), is_[k]);
    return {center_, {x[0], x[1], x[2]}, {x[3], x[4], x[5]}};
  }

 private:
  Point center_;
  double scale_mm_;
  int count_ = 0;
  std::array<Six, 6> basis_;
  Eigen::Matrix<double, 6, 6> rows_;
  std::array<Form, 6> is_;
};

std::vector<Point> loop_mm(const StandingFace& face, double unit_mm) {
  std::vector<Point> out;
  for (Vec p : face.loop) out.push_back(in_mm({p, 1}, unit_mm));
  return out;
}

Point mean(const std::vector<Point>& points) {
  Point sum;
  for (Point p : points) sum = sum + p;
  return (1 / static_cast<double>(points.size())) * sum;
}

// The face beyond the edge from p to q.
const StandingFace& beyond(const StandingBlock& block, Vec p, Vec q) {
  for (const StandingFace& f : block.faces)
    for (std::size_t i = 0; i < f.loop.size(); ++i)
      if (f.loop[i] == q && f.loop[(i + 1) % f.loop.size()] == p) return f;
  assert(false);
  return block.faces.front();
}

std::size_t index_in(const StandingBlock& block, const StandingFace& face) {
  return static_cast<std::size_t>(&face - block.faces.data());
}

// Where the edges of a face go in its plane, and the rigid motion nearest to that.
OutlineShift outline(const StandingBlock& block, int face, const std::vector<FaceField>& fields,
                     const JointFrame& frame, double unit_mm) {
  const StandingFace& f = block.faces[face];
  const Point n = direction(f.plane.n);
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  std::array<Form, 3> right_side;
  for (std::size_t i = 0; i < f.loop.size(); ++i) {
    const Vec from = f.loop[i], to = f.loop[(i + 1) % f.loop.size()];
    const StandingFace& other = beyond(block, from, to);
    const Point edge = direction(to - from), out = cross(edge, n), m = direction(other.plane.n);
    for (Vec corner : {from, to}) {
      const Point p = in_mm({corner, 1}, unit_mm), arm = p - frame.middle;
      // A point on both real planes: moved along the outward normal of the face, and within it until it meets the
      // other face.
      Form outward = (1 / dot(m, out)) * fields[index_in(block, other)].at(p);
      outward.add(-dot(m, n) / dot(m, out), fields[static_cast<std::size_t>(face)].at(p));
      const Eigen::Vector3d row(dot(out, frame.right), dot(out, frame.up), dot(frame.normal, cross(arm, out)));
      normal += row * row.transpose();
      for (int k = 0; k < 3; ++k) right_side[k].add(row[k], outward);
    }
  }
  const Eigen::Matrix3d inverse = normal.inverse();
  std::array<Form, 3> x;
  for (int i = 0; i < 3; ++i)
    for (int k = 0; k < 3; ++k) x[i].add(inverse(i, k), right_side[k]);
  return {x[0], x[1], x[2]};
}

// Three points of a plane that fix it.
std::array<Point, 3> tripod(Point middle, Point right, Point up, double reach) {
  return {middle, middle + reach * right, middle + reach * up};
}

// The new block lies along the whole joint, as thick as the glue is.
void lie_on_joint(PoseSolver& b, const BlockPose& a, const JointFrame& f, const FaceField& face_a,
                  const FaceField& face_b, const Form& line) {
  for (Point p : tripod(f.middle, f.right, f.up, f.reach)) {
    Form is = face_a.at(p) + a.along(f.normal, p) + face_b.at(p) + line;
    b.require(row_along(f.normal, p - b.center(), b.scale_mm()), std::move(is));
  }
}

// The real face on which a plate of the glue jig lies.
struct Plate {
  FaceField face;
  BlockPose pose;
};

class PieceGluer {
 public:
  PieceGluer(const ClosedPuzzle& puzzle, const StandingPieceParts& piece,
             const std::vector<std::vector<FaceField>>& faces, const GlueNumbers& numbers)
      : puzzle_(puzzle), piece_(piece), faces_(faces), numbers_(numbers), plates_(piece.datum.size()) {}

  std::vector<BlockPose> run() {
    poses_.resize(static_cast<std::size_t>(piece_.blocks));
    poses_[0].center = middle_of(block(piece_.first_block), puzzle_.unit_mm);
    claim_plates(piece_.first_block);
    for (std::size_t j = 0; j < piece_.joints.size(); ++j) glue(j);
    return std::move(poses_);
  }

 private:
  const StandingBlock& block(int b) const { return puzzle_.blocks[static_cast<std::size_t>(b)]; }
  std::size_t own(int b) const { return static_cast<std::size_t>(b - piece_.first_block); }

  void glue(std::size_t j) {
    const StandingJoint& joint = piece_.joints[j];
    const JointFrame frame = joint_frame(joint, block(joint.a), puzzle_.unit_mm);
    const std::size_t a = own(joint.a), b = own(joint.b);
    PoseSolver solver(middle_of(block(joint.b), puzzle_.unit_mm), frame.reach);
    Form line = Form::of(numbers_.line[j]);
    lie_on_joint(solver, poses_[a], frame, faces_[a][joint.face_a], faces_[b][joint.face_b], line);
    press_on_plates(solver, joint.b, frame.normal);
    put_by_hand(solver, j, frame);
    poses_[b] = solver.pose();
    claim_plates(joint.b);
  }

  // Calls use(plate, face) for the plates of the jig on which the block lies.
  template <class Use>
  void for_each_plate(int b, Use use) {
    for (std::size_t d = 0; d < piece_.datum.size(); ++d)
      for (std::size_t f = 0; f < block(b).faces.size(); ++f)
        if (block(b).faces[f].plane == piece_.datum[d]) use(d, f);
  }

  // The first block on a plate says where it is; the others are pressed against it there.
  void claim_plates(int b) {
    for_each_plate(b, [&](std::size_t d, std::size_t f) {
      if (!plates_[d]) plates_[d] = Plate{faces_[own(b)][f], poses_[own(b)]};
    });
  }

  // The joint leaves the block a turn within its plane, which turns the face on a plate along the line where plate and
  // joint meet: along it the face lies on the plate, and at its middle.
  void press_on_plates(PoseSolver& solver, int b, Point joint_normal) {
    for_each_plate(b, [&](std::size_t d, std::size_t f) {
      if (!plates_[d]) return;
      const StandingFace& face = block(b).faces[f];
      const Point n = direction(face.plane.n);
      const Point middle = mean(loop_mm(face, puzzle_.unit_mm)), line = cross(joint_normal, n);
      const double slope = length(line);
      if (slope < kIndependent) return;  // the plate lies along the joint, which holds the block there already
      for (Point p : {middle, middle + (solver.scale_mm() / slope) * line}) {
        Form is = plates_[d]->face.at(p) + plates_[d]->pose.along(n, p) - faces_[own(b)][f].at(p);
        is.add(1, Form::of(numbers_.plate[own(b)][d]));
        solver.require(row_along(n, p - solver.center(), solver.scale_mm()), std::move(is));
      }
    });
  }

  // Outline on outline, each off by what a hand is off.
  void put_by_hand(PoseSolver& solver, std::size_t j, const JointFrame& f) {
    const StandingJoint& joint = piece_.joints[j];
    const std::size_t a = own(joint.a), b = own(joint.b);
    const OutlineShift there = outline(block(joint.a), joint.face_a, faces_[a], f, puzzle_.unit_mm),
                       here = outline(block(joint.b), joint.face_b, faces_[b], f, puzzle_.unit_mm);
    const Point arm = f.middle - solver.center();
    solver.require(row_along(f.right, arm, solver.scale_mm()),
                   poses_[a].along(f.right, f.middle) + there.right - here.right + Form::of(numbers_.right[j]));
    solver.require(row_along(f.up, arm, solver.scale_mm()),
                   poses_[a].along(f.up, f.middle) + there.up - here.up + Form::of(numbers_.up[j]));
    solver.require(row_about(f.normal, solver.scale_mm()),
                   dot(f.normal, poses_[a].turn) + there.turn - here.turn + Form::of(numbers_.turn[j]));
  }

  const ClosedPuzzle& puzzle_;
  const StandingPieceParts& piece_;
  const std::vector<std::vector<FaceField>>& faces_;
  const GlueNumbers& numbers_;
  std::vector<std::optional<Plate>> plates_;
  std::vector<BlockPose> poses_;
};

// What a block's swelling moves a point of it along a direction.
Form swelling_along(const BlockSwelling& s, Point u, Point arm) {
  Form f;
  f.add(u.a * arm.a, s.share[0]);
  f.add(u.b * arm.b, s.share[1]);
  f.add(u.t * arm.t, s.share[2]);
  return f;
}

}  // namespace

Form BlockPose::along(Point u, Point p) const {
  const Point moment = cross(p - center, u);
  return dot(u, slide) + dot(moment, turn);
}

Point middle_of(const StandingBlock& block, double unit_mm) {
  Point sum;
  int n = 0;
  for (const StandingFace& f : block.faces)
    for (Vec p : f.loop) sum = sum + in_mm({p, 1}, unit_mm), ++n;
  return (1.0 / n) * sum;
}

JointFrame joint_frame(const StandingJoint& joint, const StandingBlock& a, double unit_mm) {
  JointFrame f;
  std::vector<Point> corners;
  for (const Spot& s : joint.corners) corners.push_back(in_mm(s, unit_mm));
  f.middle = mean(corners);
  f.normal = direction(a.faces[static_cast<std::size_t>(joint.face_a)].plane.n);
  const Point arm = corners[0] - f.middle;
  f.right = (1 / length(arm)) * arm;
  f.up = cross(f.normal, f.right);
  double square = 0;
  for (Point p : corners) square += dot(p - f.middle, p - f.middle);
  f.reach = std::sqrt(square / static_cast<double>(corners.size()));
  return f;
}

std::vector<BlockPose> glued_poses(const ClosedPuzzle& puzzle, const StandingPieceParts& piece,
                                   const std::vector<std::vector<FaceField>>& faces, const GlueNumbers& numbers) {
  return PieceGluer(puzzle, piece, faces, numbers).run();
}

std::vector<BlockPose> swollen_poses(const ClosedPuzzle& puzzle, const StandingPieceParts& piece,
                                     const std::vector<BlockSwelling>& swelling) {
  std::vector<BlockPose> poses(static_cast<std::size_t>(piece.blocks));
  poses[0].center = middle_of(puzzle.blocks[static_cast<std::size_t>(piece.first_block)], puzzle.unit_mm);
  for (const StandingJoint& joint : piece.joints) {
    const StandingBlock &block_a = puzzle.blocks[static_cast<std::size_t>(joint.a)],
                        &block_b = puzzle.blocks[static_cast<std::size_t>(joint.b)];
    const auto a = static_cast<std::size_t>(joint.a - piece.first_block),
               b = static_cast<std::size_t>(joint.b - piece.first_block);
    const JointFrame f = joint_frame(joint, block_a, puzzle.unit_mm);
    PoseSolver solver(middle_of(block_b, puzzle.unit_mm), f.reach);
    lie_on_joint(
        solver, poses[a], f,
        swollen_face(swelling[a], block_a, block_a.faces[static_cast<std::size_t>(joint.face_a)], puzzle.unit_mm),
        swollen_face(swelling[b], block_b, block_b.faces[static_cast<std::size_t>(joint.face_b)], puzzle.unit_mm),
        Form{});
    const Point arm_a = f.middle - poses[a].center, arm_b = f.middle - solver.center();
    for (Point u : {f.right, f.up})
      solver.require(
          row_along(u, arm_b, solver.scale_mm()),
          poses[a].along(u, f.middle) + swelling_along(swelling[a], u, arm_a) - swelling_along(swelling[b], u, arm_b));
    solver.require(row_about(f.normal, solver.scale_mm()), dot(f.normal, poses[a].turn));
    poses[b] = solver.pose();
  }
  return poses;
}

FaceField swollen_face(const BlockSwelling& s, const StandingBlock& block, const StandingFace& face, double unit_mm) {
  const Point n = direction(face.plane.n), c = middle_of(block, unit_mm);
  FaceField f{Form{}, {-n.a * s.share[0], -n.b * s.share[1], -n.t * s.share[2]}};
  f.offset = dot(c, f.turn);
  return f;
}

}  // namespace stickwright
