// mistake.h - one mistake in a design file, and the one error that answers it.
#pragma once
#include <gtest/gtest.h>

#include <ostream>
#include <string>

#include "design/design_file.h"

namespace stickwright {

struct Mistake {
  const char* name;
  std::string text;  // what follows the head of the file
  const char* code;
  const char* where;  // "line:column"
  const char* says;   // part of the message
};
inline void PrintTo(const Mistake& m, std::ostream* out) {
  *out << m.name;
}

inline void expect_one_clear_error(const std::string& head, const Mistake& m) {
  const auto d = parse_design(head + m.text, "d.toml");
  ASSERT_FALSE(d);
  EXPECT_EQ(d.problem().code, m.code);
  EXPECT_EQ(d.problem().where, std::string("d.toml:") + m.where);
  EXPECT_NE(d.problem().say.find(m.says), std::string::npos) << d.problem().say;
}

}  // namespace stickwright
