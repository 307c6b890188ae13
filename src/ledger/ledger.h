// ledger.h - every measurement of a batch, in one file beside it. Nothing in it is ever changed. Page: docs/ledger.md.
#pragma once
#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "ledger/entries.h"
#include "quantity/result.h"

namespace stickwright {

// "spring/batch.ledger" for "spring/batch.toml".
std::filesystem::path ledger_path(const std::filesystem::path& batch_file);

// For trying out what cannot be had otherwise.
struct LedgerLimits {
  std::int64_t most_pages = 0;  // of 4096 bytes, as if the disk were full beyond; 0: no bound
  int wait_ms = 5000;           // for another program that writes
};

// An open ledger. Several programs may have one file open; each call is one transaction: all of it is stored or
// nothing. What a call returns is on the disk. One Ledger is for one thread at a time.
//   errors   of every call: bad_ledger (damaged, or no ledger), newer_ledger (of a later version of this program),
//            locked (another program wrote for all of the waiting time), cannot_write (folder, rights, disk full);
//            of those that write also bad_text (see kLongestText)
class Ledger {
 public:
  // Opens the file; makes it when there is none. One of an older version is brought up to date, losing nothing.
  static Result<Ledger> open(const std::filesystem::path& file, const LedgerLimits& limits = {});
  ~Ledger();
  Ledger(Ledger&&) noexcept;
  Ledger& operator=(Ledger&&) noexcept;

  //   returns  one for each reading, in order
  //   assumes  a reading is of a stop or of a width, not both; kSameBlock does not come first
  Result<std::vector<Stored>> add_readings(std::span<const Reading> readings);

  // Says what the reading should have been. The reading itself stays.
  //   id       of a reading, or of a change of it
  //   errors   unknown_entry
  Result<Stored> correct(EntryId id, Nm value, const std::string& by, const std::string& note);
  // Says that the entry does not count: a reading, a change of it (the whole reading), a truing, a leaf.
  Result<Stored> withdraw(EntryId id, const std::string& by, const std::string& note);

  Result<Stored> add_truing(const Truing& truing);
  Result<Stored> add_leaf(const LeafUsed& leaf);

  // In the order of writing, withdrawn ones too.
  Result<std::vector<KeptReading>> readings();
  Result<std::vector<KeptReading>> readings_of(const std::string& set_up, int stop, int side = 0);
  Result<std::vector<KeptTruing>> truings();
  Result<std::vector<KeptLeaf>> leaves_applied();

 private:
  struct Impl;
  explicit Ledger(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace stickwright
