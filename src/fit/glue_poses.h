// glue_poses.h - where gluing puts the blocks of a piece, as linear functions of all that is off.
#pragma once
#include <optional>
#include <vector>

#include "fit/closed_puzzle.h"
#include "fit/form.h"

namespace stickwright {

// How a plane lies beside where it should be: outward at p (mm, in the closed puzzle) by offset - turn.p.
struct FaceField {
  Form offset;
  FormPoint turn;
  Form at(Point p) const { return offset - dot(p, turn); }
  friend FaceField operator+(const FaceField& x, const FaceField& y) {
    return {x.offset + y.offset, {x.turn.a + y.turn.a, x.turn.b + y.turn.b, x.turn.t + y.turn.t}};
  }
};

// How a block is moved from where it should be: by slide + turn x (p - center) at p.
struct BlockPose {
  Point center;
  FormPoint slide, turn;
  Form along(Point direction, Point p) const;  // direction . (slide + turn x (p - center))
};

// How a block's outline in a joint lies beside where it should be, within the plane of the joint: the rigid motion that
// comes nearest to what its edges do. Right and up complete the normal to a frame.
struct OutlineShift {
  Form right, up, turn;
};

// The plane of a joint with a frame of its own.
struct JointFrame {
  Point middle, normal, right, up;  // normal out of the block that was there before
  double reach = 1;                 // mm: how far the glued area extends, root mean square
};
JointFrame joint_frame(const StandingJoint& joint, const StandingBlock& a, double unit_mm);

// Numbers of the forms that gluing brings in: each its own.
struct GlueNumbers {
  // By joint of a piece.
  std::vector<int> line;             // how thick the glue is, mm
  std::vector<int> right, up, turn;  // of the new block in the plane of the joint, mm and rad
  // By block of the piece and plate of the jig; -1 where the block does not lie on the plate.
  std::vector<std::vector<int>> plate;  // mm
};

// The poses of one piece's blocks. The first block stands where it should; each further one lies on the block before it
// along the whole joint, as thick as the glue is; within the plane of the joint it is held by the plates of the jig on
// which it lies, in their order, and is put by hand, outline on outline, as far as these leave it free. A plate holds a
// block's face at its middle and, while the block can still turn, along the line where plate and joint meet.
//   faces    [blocks of the piece][faces]: how the sawn faces lie, in the closed puzzle
//   exact    to first order; does not depend on where in the block its own frame lies
//   source   docs/derivations/fit.md
std::vector<BlockPose> glued_poses(const ClosedPuzzle& puzzle, const StandingPieceParts& piece,
                                   const std::vector<std::vector<FaceField>>& faces, const GlueNumbers& numbers);

// How a block that swells by a share of its length along the three axes moves its matter, about its middle.
struct BlockSwelling {
  std::array<Form, 3> share;
};

// The same for pieces that swell once they are glued: joints keep matter on matter at their middle, and their planes
// together.
std::vector<BlockPose> swollen_poses(const ClosedPuzzle& puzzle, const StandingPieceParts& piece,
                                     const std::vector<BlockSwelling>& swelling);

// The middle of a block: the mean of its faces' corners.
Point middle_of(const StandingBlock& block, double unit_mm);

// The face of a swelling block.
FaceField swollen_face(const BlockSwelling& swelling, const StandingBlock& block, const StandingFace& face,
                       double unit_mm);

}  // namespace stickwright
