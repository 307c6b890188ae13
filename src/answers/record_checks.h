// record_checks.h - what is asked of every reading, typed or in a table. Private to this room.
#pragma once
#include <optional>
#include <string>

#include "answers/record_desk.h"

namespace stickwright {

// Nothing, or why no block can measure that: a slip, or the wrong set-up.
std::optional<Problem> impossible(const RecordDesk& desk, Nm value);

// The full name of a wood; nothing of none.   errors  unknown_wood
Result<std::string> wood_named(const std::string& name);

Problem no_second_width(const RecordDesk& desk);

}  // namespace stickwright
