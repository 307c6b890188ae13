// reading_csv.h - readings from a table of text, as a spreadsheet writes it. Columns: docs/ledger.md.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ledger/entries.h"
#include "ledger/typed_value.h"
#include "text/source.h"

namespace stickwright {

// A reading of the file, and where it stands.
struct CsvReading {
  Reading reading;            // value, stick, wood, note, taken_at, block; the rest is for the caller to say
  Place at;                   // of the value
  std::optional<Nm> value_2;  // of a width: across the other two sides
  Place at_2;
};

struct CsvReadings {
  std::vector<CsvReading> readings;
  Source source;
};

// The first row names the columns: `value`, and any of `value_2`, `block`, `stick`, `wood`, `note`, `at` in any order.
// They are parted by commas, or by semicolons when the first row holds one. A field in "double quotes" may hold the
// mark that parts them; two quotes stand for one. Empty lines are passed over.
//   errors   at the place of the first mistake: bad_csv (no column `value`, an unknown column or one named twice, too
//            many fields, a quote that does not end), bad_value, bad_time, bad_block; no_readings
Result<CsvReadings> read_csv(std::string file, std::string_view text, Unit unit);

// "2031-02-04", "2031-02-04 18:30", "2031-02-04T18:30:05Z": a day that exists, and a time of day if there is one.
bool is_time(std::string_view text);

}  // namespace stickwright
