// entries.h - what the ledger of a batch keeps: plain values, each an entry with a number, never changed afterwards.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "quantity/estimate.h"
#include "quantity/quantity.h"

namespace stickwright {

using EntryId = std::int64_t;  // from 1, in the order of writing

inline constexpr std::size_t kLongestText = 1000;  // bytes of a name or a note: one line of UTF-8

// How a reading came in.
enum class Entered { typed, piped, csv };
const char* to_string(Entered entered);

// Numbers that the ledger gives when it writes: the next one that is free among the blocks of a set-up and wood, and
// that of the reading before in the same call.
inline constexpr int kNextBlock = -1, kSameBlock = -2;

// One reading of a block or its stand-in, as it was taken: across flats, to prove a stop, or across two sides that the
// stick has left on the block. Texts may be empty: not said.
struct Reading {
  std::string set_up;  // its id: set_up_id
  int stop = 1;        // of the set-up, from 1; 0: it is a width
  int side = 0;        // of a width: 1 or 2, as WidthNumber::side
  int block = 0;       // the number written on the block, from 1 in each set-up and wood; 0: none
  Nm value;
  std::string stick, wood, instrument, by, note;
  Entered entered = Entered::typed;
  std::string taken_at;    // when, if that was not the moment of writing: ISO 8601, UTC
  std::string client_key;  // the same key sent twice is stored once
};

// A later entry about an earlier one: the value that should have stood there, or no value: it is withdrawn.
struct Change {
  EntryId id = 0;
  std::string at, by, note;
  std::optional<Nm> value;
};

struct KeptReading {
  EntryId id = 0;
  std::string at;               // when it was written: ISO 8601, UTC
  Reading reading;              // as it was entered first
  std::vector<Change> changes;  // in order; the last one counts
  std::optional<Nm> value() const { return changes.empty() ? std::optional(reading.value) : changes.back().value; }
};

// Result of truing the saw: angles in radians, each with its standard uncertainty.
struct Truing {
  Estimate miter, tilt, roll, pitch;  // only value and u are kept
  std::string by, note;
};
struct KeptTruing {
  EntryId id = 0;
  std::string at;
  Truing truing;
  bool withdrawn = false;
};

// A feeler leaf that was put between a stop and the back stop.
struct LeafUsed {
  std::string set_up;
  int stop = 1;
  Nm thickness;
  std::string by, note;
};
struct KeptLeaf {
  EntryId id = 0;
  std::string at;
  LeafUsed leaf;
  bool withdrawn = false;
};

// What a reading was acknowledged with: it is on the disk.
struct Stored {
  EntryId id = 0;
  std::string at;
  bool was_there = false;  // the same client key had been stored before; nothing new was written
  int block = 0;           // of a reading: the number of its block
};

}  // namespace stickwright
