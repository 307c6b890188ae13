#include "serve/pairing.h"

#include <fcntl.h>
#include <fmt/core.h>
#include <glib.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "serve/folder.h"
#include "text/files.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;
using std::chrono::duration_cast;
using std::chrono::seconds;

std::int64_t in_seconds(std::chrono::system_clock::time_point t) {
  return duration_cast<seconds>(t.time_since_epoch()).count();
}

void fill_at_random(void* to, std::size_t bytes) {
  if (::getentropy(to, bytes) != 0) throw std::runtime_error("the operating system has no randomness to give");
}

// Each of the million codes is as likely as any other.
std::string random_code() {
  constexpr std::uint32_t kCodes = 1'000'000, kFair = UINT32_MAX / kCodes * kCodes;
  std::uint32_t drawn = 0;
  do fill_at_random(&drawn, sizeof drawn);
  while (drawn >= kFair);
  return fmt::format("{:06}", drawn % kCodes);
}

std::string digest_of(const std::string& token) {
  char* hex = g_compute_checksum_for_string(G_CHECKSUM_SHA256, token.data(), static_cast<gssize>(token.size()));
  std::string out = hex;
  g_free(hex);
  return out;
}

// write_file keeps the permissions of a file that is there: only its owner may read this one, from the first byte on.
void make_private(const fs::path& file) {
  std::error_code ignored;
  fs::create_directories(file.parent_path(), ignored);
  const int made = ::open(file.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600);
  if (made < 0) return;
  ::fchmod(made, 0600);
  ::close(made);
}

}  // namespace

Pairing::Pairing(fs::path kept, Now now) : kept_(std::move(kept)), now_(std::move(now)) {
  read();
  new_code();
}

Pairing::Shown Pairing::shown() {
  const std::lock_guard lock(mutex_);
  if (now_() >= code_until_) new_code();
  return shown_now();
}

Pairing::Shown Pairing::renew() {
  const std::lock_guard lock(mutex_);
  new_code();
  pause_until_ = {};
  next_pause_ = kFirstPause;
  return shown_now();
}

void Pairing::forget_all() {
  const std::lock_guard lock(mutex_);
  devices_.clear();
  write();
  new_code();
}

Result<std::string> Pairing::pair(const std::string& code) {
  const std::lock_guard lock(mutex_);
  const Time now = now_();
  if (now < pause_until_)
    return Problem{"too_many_tries", "",
                   fmt::format("too many wrong codes: wait {} s, or make a new code at the desk",
                               duration_cast<seconds>(pause_until_ - now).count() + 1),
                   ""};
  const bool right = same_secret(code, code_) && now < code_until_;
  if (!right && ++tries_ >= kTriesPerCode) {
    new_code();
    pause_until_ = now + next_pause_;
    next_pause_ = std::min(2 * next_pause_, kLongestPause);
    return Problem{"too_many_tries", "", "too many wrong codes: there is a new one, look at the desk again in a while",
                   ""};
  }
  if (!right)
    return Problem{"wrong_code", "", "this is not the code that the desk shows now; codes are good for ten minutes",
                   ""};
  tries_ = 0;
  next_pause_ = kFirstPause;
  const std::string token = random_hex(32);
  devices_.push_back({digest_of(token), now + kTokenLives});
  if (devices_.size() > kMostPaired) devices_.erase(devices_.begin());
  write();
  return token;
}

// The digest is compared, not the token: how long that takes tells nothing of use, and it is done in constant time all
// the same.
bool Pairing::knows(const std::string& token) {
  if (token.size() != 64) return false;
  const std::string digest = digest_of(token);
  const std::lock_guard lock(mutex_);
  bool known = false;
  for (const Device& d : devices_) known |= same_secret(d.digest, digest) && now_() < d.until;
  return known;
}

void Pairing::new_code() {
  code_ = random_code();
  code_until_ = now_() + kCodeLives;
  tries_ = 0;
}

Pairing::Shown Pairing::shown_now() const {
  const Time now = now_();
  const auto good = std::count_if(devices_.begin(), devices_.end(), [&](const Device& d) { return now < d.until; });
  return {code_, static_cast<int>(duration_cast<seconds>(code_until_ - now).count()), static_cast<std::size_t>(good)};
}

void Pairing::read() {
  if (kept_.empty()) return;
  std::ifstream in(kept_);
  const auto document = nlohmann::json::parse(in, nullptr, false);
  if (!document.is_array()) return;
  for (const auto& one : document) {
    if (!one.is_object() || !one.contains("digest") || !one["digest"].is_string()) continue;
    if (!one.contains("until") || !one["until"].is_number_integer()) continue;
    const Time until{seconds(one["until"].get<std::int64_t>())};
    if (now_() < until && devices_.size() < kMostPaired) devices_.push_back({one["digest"].get<std::string>(), until});
  }
}

void Pairing::write() const {
  if (kept_.empty()) return;
  nlohmann::json document = nlohmann::json::array();
  for (const Device& d : devices_) document.push_back({{"digest", d.digest}, {"until", in_seconds(d.until)}});
  make_private(kept_);
  (void)write_file(kept_, document.dump(1) + "\n");
}

fs::path pairing_file(const fs::path& folder) {
  const auto set = [](const char* name) -> std::string {
    const char* value = std::getenv(name);
    return value ? value : "";
  };
  fs::path state = set("XDG_STATE_HOME");
  // Relative paths are to be ignored: XDG Base Directory Specification.
  if (!state.is_absolute()) state = set("HOME").empty() ? fs::path() : fs::path(set("HOME")) / ".local" / "state";
  return state.empty() ? state : state / "stickwright" / ("paired-" + version_of(folder.string()));
}

std::string random_hex(std::size_t bytes) {
  std::string out;
  for (std::size_t i = 0; i < bytes; ++i) {
    unsigned char byte = 0;
    fill_at_random(&byte, 1);
    out += fmt::format("{:02x}", byte);
  }
  return out;
}

bool same_secret(const std::string& a, const std::string& b) {
  if (a.size() != b.size()) return false;
  unsigned char different = 0;
  for (std::size_t i = 0; i < a.size(); ++i) different |= static_cast<unsigned char>(a[i] ^ b[i]);
  return different == 0;
}

}  // namespace stickwright
