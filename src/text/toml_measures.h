// toml_measures.h - the kinds of value that are a number with a physical unit. Private to this room.
#pragma once
#include <string>

#include "text/toml_node.h"
#include "text/toml_reader.h"

namespace stickwright {

// T is Angle, Celsius, Kelvin, Newton, MmPerSecond, Megapascal or PerKelvin.
template <class T>
struct MeasureKind {
  RangeOf<T> range;
  std::string expected() const;
  Result<T> read(const TomlNode& node) const;
};

}  // namespace stickwright
