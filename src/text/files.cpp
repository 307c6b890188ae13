#include "text/files.h"

#include <fcntl.h>
#include <fmt/core.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <string>
#include <system_error>
#include <utility>

namespace stickwright {
namespace {

namespace fs = std::filesystem;

Problem cannot_write(const fs::path& path, int error) {
  return {"cannot_write", path.string(),
          fmt::format("cannot write here: {}; nothing was changed", std::system_category().message(error)), ""};
}

// A file with a name of its own beside `path`, open for writing; gone again unless it is moved into place.
class Temporary {
 public:
  explicit Temporary(const fs::path& beside) {
    static std::atomic<unsigned> count = 0;
    name_ = fmt::format("{}.part-{}-{}", beside.string(), ::getpid(), ++count);
    file_ = ::open(name_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    exists_ = file_ >= 0;
  }
  ~Temporary() {
    if (file_ >= 0) ::close(file_);
    if (exists_) ::unlink(name_.c_str());
  }
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;

  bool is_open() const { return file_ >= 0; }
  bool write(std::string_view content) {
    while (!content.empty()) {
      const ssize_t n = ::write(file_, content.data(), content.size());
      if (n < 0 && errno == EINTR) continue;
      if (n < 0) return false;
      content.remove_prefix(static_cast<std::size_t>(n));
    }
    return ::fsync(file_) == 0;
  }
  bool take_mode_of(const fs::path& path) {
    struct stat now = {};
    return ::stat(path.c_str(), &now) != 0 || ::fchmod(file_, now.st_mode & 07777) == 0;
  }
  bool move_to(const fs::path& path) {
    const int file = std::exchange(file_, -1);
    if (::close(file) != 0 || ::rename(name_.c_str(), path.c_str()) != 0) return false;
    exists_ = false;
    return true;
  }

 private:
  std::string name_;
  int file_ = -1;
  bool exists_ = false;
};

// 0, or why the file may not be replaced: a rename would get past the read-only mark that its owner gave it.
int why_not_replaced(const fs::path& target) {
  std::error_code error;
  if (fs::is_directory(target, error)) return EISDIR;
  if (fs::exists(target, error) && ::access(target.c_str(), W_OK) != 0) return errno;
  return 0;
}

// After a rename the folder has to reach the disk too; a file system that cannot do this has done its best.
void flush_folder(const fs::path& folder) {
  const int file = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY);
  if (file < 0) return;
  ::fsync(file);
  ::close(file);
}

}  // namespace

Result<Done> make_folder(const fs::path& path) {
  std::error_code error;
  if (path.empty() || fs::is_directory(path, error)) return Done{};
  fs::create_directories(path, error);
  if (error) return cannot_write(path, error.value());
  return Done{};
}

Result<Done> write_file(const fs::path& path, std::string_view content) {
  std::error_code error;
  const fs::path link_free = fs::weakly_canonical(path, error);
  const fs::path target = error ? path : link_free;
  if (const int why = why_not_replaced(target)) return cannot_write(path, why);
  if (auto made = make_folder(target.parent_path()); !made) return made.problem();
  Temporary temporary(target);
  if (!temporary.is_open()) return cannot_write(path, errno);
  if (!temporary.take_mode_of(target) || !temporary.write(content) || !temporary.move_to(target))
    return cannot_write(path, errno);
  flush_folder(target.parent_path());
  return Done{};
}

}  // namespace stickwright
