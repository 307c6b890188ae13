// keyed_lines.h - lines as they are typed, by hand or by a caliper that types like a keyboard.
#pragma once
#include <functional>
#include <string>

namespace stickwright {

// Standard input, entry by entry: each ends with Enter or Tab. On a terminal Tab hands an entry over at once, too, and
// Ctrl-C ends the input; both are put back as they were at the end.
class KeyedLines {
 public:
  KeyedLines();
  ~KeyedLines();
  KeyedLines(const KeyedLines&) = delete;
  KeyedLines& operator=(const KeyedLines&) = delete;

  bool is_terminal() const { return terminal_; }
  // The next entry, without its end.   returns  false at the end of the input
  bool next(std::string& entry);

 private:
  bool read_more();
  bool terminal_ = false, at_end_ = false;
  std::string waiting_;
  std::size_t looked_at_ = 0;
  std::function<void()> put_back_;
};

}  // namespace stickwright
