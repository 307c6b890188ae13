#include "cli/keyed_lines.h"

#include <termios.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <utility>

namespace stickwright {
namespace {

volatile std::sig_atomic_t interrupted = 0;

// Makes Tab end a line besides Enter, and Ctrl-C end the input.
std::function<void()> listen_to_keys() {
  termios before = {};
  if (::tcgetattr(STDIN_FILENO, &before) != 0) return [] {};
  termios keys = before;
  keys.c_cc[VEOL] = '\t';
  ::tcsetattr(STDIN_FILENO, TCSADRAIN, &keys);
  struct sigaction on_interrupt = {}, old = {};
  on_interrupt.sa_handler = [](int) { interrupted = 1; };
  ::sigaction(SIGINT, &on_interrupt, &old);  // without SA_RESTART: a waiting read ends
  return [before, old] {
    ::tcsetattr(STDIN_FILENO, TCSADRAIN, &before);
    ::sigaction(SIGINT, &old, nullptr);
  };
}

}  // namespace

KeyedLines::KeyedLines() : terminal_(::isatty(STDIN_FILENO) == 1) {
  if (terminal_) put_back_ = listen_to_keys();
}

KeyedLines::~KeyedLines() {
  if (put_back_) put_back_();
}

bool KeyedLines::read_more() {
  char buffer[4096];
  for (;;) {
    const ssize_t n = interrupted ? 0 : ::read(STDIN_FILENO, buffer, sizeof buffer);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    waiting_.append(buffer, static_cast<std::size_t>(n));
    return true;
  }
}

bool KeyedLines::next(std::string& entry) {
  for (;;) {
    const std::size_t end = waiting_.find_first_of("\n\r\t", looked_at_);
    if (end != std::string::npos) {
      entry = waiting_.substr(0, end);
      waiting_.erase(0, end + 1);
      looked_at_ = 0;
      return true;
    }
    looked_at_ = waiting_.size();
    if (at_end_ || !read_more()) break;
  }
  at_end_ = true;
  entry = std::exchange(waiting_, "");
  looked_at_ = 0;
  return !entry.empty();
}

}  // namespace stickwright
