// child.h - the built program as a child process that is fed through a pipe and may be killed at any moment.
#pragma once
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <stdexcept>
#include <string>
#include <vector>

namespace stickwright {

class Child {
 public:
  // `args` after the program's name.
  explicit Child(std::vector<std::string> args) {
    args.insert(args.begin(), STICKWRIGHT_PROGRAM);
    std::vector<char*> list;
    for (std::string& a : args) list.push_back(a.data());
    list.push_back(nullptr);
    int in[2], out[2];
    if (::pipe2(in, O_CLOEXEC) != 0 || ::pipe2(out, O_CLOEXEC) != 0) throw std::runtime_error("pipe");
    process_ = ::fork();
    if (process_ == 0) run(list, in[0], out[1]);
    ::close(in[0]);
    ::close(out[1]);
    to_ = in[1];
    from_ = out[0];
  }
  ~Child() {
    close_input();
    signal_kill();
    wait();
    ::close(from_);
  }
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  // Needs room in the pipe.   returns  false when the child has gone
  bool write(const std::string& text) {
    return ::write(to_, text.data(), text.size()) == static_cast<ssize_t>(text.size());
  }
  void close_input() {
    if (to_ >= 0) ::close(to_);
    to_ = -1;
  }
  // The next line that it printed.   returns  false at the end
  bool read_line(std::string& line) {
    for (;;) {
      const std::size_t end = waiting_.find('\n');
      if (end != std::string::npos) {
        line = waiting_.substr(0, end);
        waiting_.erase(0, end + 1);
        return true;
      }
      char buffer[4096];
      const ssize_t n = ::read(from_, buffer, sizeof buffer);
      if (n <= 0) return false;
      waiting_.append(buffer, static_cast<std::size_t>(n));
    }
  }
  // Kills without waiting, so that another thread may read meanwhile. The child stays known until wait().
  void signal_kill() const {
    if (process_ > 0) ::kill(process_, SIGKILL);
  }
  bool is_running() const {
    siginfo_t info = {};
    return ::waitid(P_PID, static_cast<id_t>(process_), &info, WEXITED | WNOHANG | WNOWAIT) == 0 && info.si_pid == 0;
  }
  // returns  true when it was killed before it had ended by itself
  bool wait() {
    if (process_ <= 0) return was_killed_;
    int status = 0;
    ::waitpid(process_, &status, 0);
    process_ = -1;
    was_killed_ = WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL;
    exit_code_ = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return was_killed_;
  }
  int exit_code() const { return exit_code_; }

 private:
  // Nothing but system calls, as befits a child of a program that may have threads.
  [[noreturn]] static void run(const std::vector<char*>& list, int in, int out) {
    ::dup2(in, STDIN_FILENO);
    ::dup2(out, STDOUT_FILENO);
    ::dup2(::open("/dev/null", O_WRONLY), STDERR_FILENO);
    ::execv(list.front(), list.data());
    ::_exit(127);
  }
  pid_t process_ = -1;
  int to_ = -1, from_ = -1, exit_code_ = -1;
  bool was_killed_ = false;
  std::string waiting_;
};

}  // namespace stickwright
