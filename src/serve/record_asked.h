// record_asked.h - readings as phones send them, written into the ledger once each. Private to this room.
#pragma once
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "answers/record_answer.h"
#include "serve/batch_asked.h"
#include "serve/given.h"

namespace stickwright {

struct RecordAsked {
  std::string batch, set_up;
  int stop = 0;
  bool of_widths = false;
  ReadingNotes notes;
  std::vector<SentReading> sent;  // each with its key
};

// What is wrong with the call itself is noted in the problem that `body` was made with.
RecordAsked record_given(const Given& body);

// Stores those that are readings, all or none; one that is none is refused, and refuses only itself. A key that the
// ledger has already is not written again; with another value, or of another place, it is refused.
//   returns  as `record --json`, and: "key" and "was_there" of what is stored, "refused", "light", "says"
//   errors   unknown_set_up, unknown_stop, no_width, unknown_wood; those of the ledger
Result<nlohmann::ordered_json> record_given_readings(const BatchAsked& batch, const RecordAsked& asked);

// What a stop or widths are now, after `recorded`.
//   errors   those of the ledger
Result<nlohmann::ordered_json> recorded_on_the_page(const Recorded& recorded);

}  // namespace stickwright
