// gap_examples.h - synthetic puzzles as rows of gaps, and errors of their faces.
#pragma once
#include <Eigen/Dense>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "closing/gap_rows.h"

namespace stickwright::test {

// A closed puzzle with its errors: h = nominal + effect * e, with e independent, of mean 0 and deviation 1.
struct GapExample {
  std::string name;
  GapRows rows;
  Eigen::VectorXd nominal;  // mm
  Eigen::MatrixXd effect;   // [rows][errors] mm
  std::vector<double> sample(std::mt19937_64& random) const;
  std::vector<double> samples(std::size_t count, std::uint64_t seed) const;  // row by row
};

// Spread of a face's place and of its turns about two axes.
struct FaceErrors {
  double place_mm = 0.05, turn_rad = 0.002;
};

double normal_draw(std::mt19937_64& random);  // mean 0, deviation 1

// Adds the corners of one contact area; gives back its first row.
struct ContactArea {
  int from = 0, to = 0;
  Point normal;
  std::vector<Point> corners;
};
GapExample of_areas(std::string name, std::vector<Point> centers, const std::vector<ContactArea>& areas,
                    double allowance_mm, FaceErrors errors);

// Areas of 4 corners anywhere, the normals anywhere; nominal gaps up to spread_mm apart.
GapExample random_areas(int bodies, int areas, std::uint64_t seed, FaceErrors errors = {}, double spread_mm = 0);
// n x n x n cubes of 16 mm in a box (body 0); every face touched in two halves.
GapExample cubes_in_box(int n, FaceErrors errors = {});
// Cubes around a square post in a square tray; post and tray are body 0.
GapExample ring_of_cubes(int along, FaceErrors errors = {});
// A block of side^3 cells, grown at random into connected pieces; faces on one plane between two pieces are one area.
GapExample grown_pieces(int pieces, int side, std::uint64_t seed, FaceErrors errors = {});

}  // namespace stickwright::test
