// first_motion.h - can touching pieces start to move at all? Two hands, any number of hands, and with turning.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "quantity/result.h"
#include "takeapart/contacts.h"
#include "takeapart/two_hands.h"

namespace stickwright {

// A speed for every piece, in whole numbers; only their proportions matter, and what all pieces have in common is no
// motion. A point p of piece i moves at slide[i] + turn[i] x p.
struct Motion {
  std::vector<Vec> slide;
  std::vector<Vec> turn;  // empty: nothing turns
  friend bool operator==(const Motion&, const Motion&) = default;
};

// Why nothing can start to move: forces, each pressing two pieces against each other where they touch, that are in
// balance on every piece. A motion would have to open no pressed contact, and the contacts leave no other motion.
// Where faces alone leave a motion, an edge contact stops it: a motion has to go around the edge past one of its
// planes, and for each of these there is a certificate with that plane as one more contact (from, to, normal).
struct Certificate {
  bool turning = false;             // holds against turning, too: forces act at Contact::at
  std::vector<Contact> contacts;    // [n]
  std::vector<std::int64_t> force;  // [n], > 0, along the normal on `to` and against it on `from`; in units of
                                    // contact.normal, when turning of contact.at.bottom * contact.normal
  std::optional<EdgeContact> edge;  // instead of contacts and forces
  std::vector<Certificate> cases;   // one for each normal of the edge
};

struct FirstMotion {
  Verdict verdict = Verdict::stopped;
  std::vector<Parting> partings;           // two hands, without turning
  std::optional<Motion> motion;            // when found: one that opens every face contact that can open, if no edge
                                           // hinders that one
  std::optional<Certificate> certificate;  // when none exists
};

struct FirstMotionOptions {
  bool turning = false;  // pieces may turn as well as slide
};

// Whether the pieces, standing so, can start to move against each other, all at once and each its own way.
//   returns  found, with a motion; none_exists, with a certificate; stopped when the floating-point answer could not be
//            rounded to a motion or a certificate that holds exactly
//   proves   without turning: found is a real motion of some length, since what starts straight goes on for a while;
//            none_exists means locked against all sliding.
//            With turning: none_exists means locked, for good and against everything (edges and corners, which are left
//            out here, can only hinder more); found proves nothing about a motion of any length
//   exact    every answer is checked in whole numbers
//   assumes  1 to kMostPieces pieces, no two overlapping
//   source   docs/derivations/first-motion.md
FirstMotion first_motion(const Family& family, const Standing& standing, const FirstMotionOptions& options = {});

// True when the forces prove that nothing can start to move. Knows only the rules: it looks for each contact's points
// on the faces of the cells themselves.
bool check_certificate(const Family& family, const Standing& standing, const Certificate& certificate);

// True when the pieces, sliding at these speeds, move against each other and none enters another for a while. Knows
// only the rules: separating axes of the cells, which also sees edges and corners.
//   assumes  no turning
bool check_motion(const Family& family, const Standing& standing, const Motion& motion);

}  // namespace stickwright
