// pairing.h - how a phone or tablet in the shop's network is let in: by a code that is shown at the desk.
// Why it is built this way: docs/workbench.md.
#pragma once
#include <chrono>
#include <filesystem>
#include <functional>
#include <mutex>
#include <string>
#include <vector>

#include "quantity/result.h"

namespace stickwright {

inline constexpr int kTriesPerCode = 5;
inline constexpr std::chrono::seconds kCodeLives{600}, kTokenLives{30 * 24 * 3600}, kFirstPause{60},
    kLongestPause{3600};
inline constexpr std::size_t kMostPaired = 32;

// A code of six digits is easy to guess for a machine that may try often: five wrong tries use it up, and then nobody
// may try for a minute, after the next five for two, up to an hour. The desk can make a new code at any time.
// Safe to call from several threads.
class Pairing {
 public:
  using Now = std::function<std::chrono::system_clock::time_point()>;

  // What is known of devices let in earlier is read from `kept`, and every change is written there: the digests of the
  // tokens, which let nobody in. A file that cannot be read counts as none; one that cannot be written lets devices in
  // until the program ends.
  explicit Pairing(std::filesystem::path kept, Now now = std::chrono::system_clock::now);

  struct Shown {
    std::string code;
    int expires_s = 0;
    std::size_t paired = 0;  // devices
  };
  // For the desk only. A code that is used up or too old is replaced by a new one.
  Shown shown();
  Shown renew();      // also ends a pause
  void forget_all();  // no device is let in any more without a new code

  //   returns  a token of 256 bits, in hexadecimal digits, good for kTokenLives
  //   errors   wrong_code; too_many_tries (says how long to wait)
  Result<std::string> pair(const std::string& code);
  bool knows(const std::string& token);

 private:
  using Time = std::chrono::system_clock::time_point;
  struct Device {
    std::string digest;
    Time until;
  };
  void new_code();
  void read();
  void write() const;
  Shown shown_now() const;

  std::mutex mutex_;
  const std::filesystem::path kept_;
  const Now now_;
  std::vector<Device> devices_;  // the oldest first
  std::string code_;
  Time code_until_, pause_until_;
  std::chrono::seconds next_pause_ = kFirstPause;
  int tries_ = 0;
};

// $XDG_STATE_HOME/stickwright/paired-NAME, NAME made from the folder's path: outside of the folder, which may be copied
// and shared.   returns  "" when there is no home
std::filesystem::path pairing_file(const std::filesystem::path& folder);

// As many bytes as asked for from the operating system's randomness, in hexadecimal digits.
std::string random_hex(std::size_t bytes);

// Takes as long for texts that differ early as for such that differ late.
bool same_secret(const std::string& a, const std::string& b);

}  // namespace stickwright
