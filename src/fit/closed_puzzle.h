// closed_puzzle.h - the closed puzzle down to its blocks: where each stands, where it is glued, which faces touch.
#pragma once
#include <string>
#include <vector>

#include "glueup/glueup.h"
#include "saw/body.h"
#include "saw/program.h"
#include "takeapart/contacts.h"

namespace stickwright {

// A piece as it is handed in: its glue-up, and where it stands.
struct StandingGlueUp {
  std::string name;
  const GlueUp* glue_up = nullptr;
  Isometry stand;                  // takes the piece to where it stands in the closed puzzle
  std::vector<std::string> woods;  // of its blocks
  std::vector<Vec> datum = {};     // outward normals, in the piece, of the faces that plates of the glue jig hold
};

// A face of a block, in the closed puzzle.
struct StandingFace {
  HalfSpace plane;        // n outward
  std::vector<Vec> loop;  // corners, counter-clockwise seen from outside
  int made_by = -1;       // as BodyFace::made_by
};

struct StandingBlock {
  int piece = 0;  // index into ClosedPuzzle::pieces
  int block = 0;  // of the piece's glue-up
  int shape = 0;  // index into Split::shapes
  std::string wood;
  Cells cells = {};    // in the closed puzzle
  Isometry from_work;  // takes the frame of the work (program.h) to the closed puzzle, both in lattice units
  std::vector<StandingFace> faces;
  int grain_axis = 2;  // in the closed puzzle
};

// Where two blocks of a piece are glued.
struct StandingJoint {
  int a = 0, b = 0;            // blocks of the puzzle, a < b
  int face_a = 0, face_b = 0;  // their faces
  std::vector<Spot> corners;   // of the area that is glued
};

struct StandingPieceParts {
  std::string name;
  int first_block = 0, blocks = 0;    // in ClosedPuzzle::blocks; the first is the largest
  std::vector<StandingJoint> joints;  // glued one after another: each adds one block, b, to those that hold a already
  std::vector<HalfSpace> datum;       // planes of the glue jig's plates, in the closed puzzle
};

// A face of one piece's block on a face of another's.
struct BlockContact {
  int from = 0, to = 0;            // blocks of the puzzle
  int from_face = 0, to_face = 0;  // their faces
  Vec normal;                      // out of `from`
  std::vector<Spot> corners;       // of the area that they share, in order
};

struct ClosedPuzzle {
  double unit_mm = 1;  // millimeters per lattice unit
  std::vector<StandingPieceParts> pieces;
  std::vector<StandingBlock> blocks;
};

//   programs  one for each of split.shapes
//   exact     all in whole numbers
ClosedPuzzle closed_puzzle(const std::vector<StandingGlueUp>& pieces, const Split& split,
                           const std::vector<Program>& programs, double unit_mm);

// Every contact of faces of different pieces, when piece i is shifted by shifts[i] / unit.
//   shifts   one a piece, or none
//   returns  by plane; the corners of the areas are in lattice units, where the pieces are then
//   exact    two faces on one plane touch when they share area; edges and corners that touch are left out, for they
//            are eased: docs/derivations/fit.md
std::vector<BlockContact> block_contacts(const ClosedPuzzle& puzzle, const std::vector<Vec>& shifts = {},
                                         std::int64_t unit = 1);

// Which corners of the closed puzzle's contacts can be seen from outside.
std::vector<std::vector<bool>> seen_from_outside(const ClosedPuzzle& puzzle, const std::vector<BlockContact>& contacts);

// The point in mm; and a direction of length 1.
Point in_mm(const Spot& spot, double unit_mm);
Point direction(Vec v);

}  // namespace stickwright
