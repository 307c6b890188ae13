// result.h - an answer, or the problem that the user can act on.
#pragma once
#include <cassert>
#include <string>
#include <utility>
#include <variant>

namespace stickwright {

// What is wrong, where, and what to do about it.
//   code    short and stable, for programs: "unknown_key"
//   where   a place in a file, "shop.toml:12:9", or a name; may be empty
//   say     one or two sentences: what was expected, what was found, what to do
//   excerpt the line of the file with a caret under the place; may be empty
struct Problem {
  std::string code, where, say, excerpt;
};

// Either a T or a Problem. Asking for the wrong one is a programming error.
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : v_(std::in_place_index<0>, std::move(value)) {}
  Result(Problem problem) : v_(std::in_place_index<1>, std::move(problem)) {}
  explicit operator bool() const { return v_.index() == 0; }
  const T& value() const& { return *check_value(); }
  T&& take() { return std::move(*const_cast<T*>(check_value())); }
  const Problem& problem() const {
    assert(v_.index() == 1);
    return *std::get_if<1>(&v_);
  }

 private:
  const T* check_value() const {
    assert(v_.index() == 0);
    return std::get_if<0>(&v_);
  }
  std::variant<T, Problem> v_;
};

// How a search ended. `stopped` (a limit was reached) is never reported as "none".
enum class Verdict { found, none_exists, stopped };

}  // namespace stickwright
