// connection.h - a ledger's database, opened so that nothing acknowledged is lost. Private to this room.
#pragma once
#include <SQLiteCpp/SQLiteCpp.h>

#include <filesystem>
#include <memory>

#include "ledger/ledger.h"

namespace stickwright {

// What an exception of the library means to the user.
//   throws   the same again when it is a mistake of ours (a constraint that we should have kept)
Problem ledger_problem(const SQLite::Exception& e, const std::filesystem::path& file);

// Opens, makes or brings up to date, as Ledger::open promises.
Result<std::unique_ptr<SQLite::Database>> open_database(const std::filesystem::path& file, const LedgerLimits& limits);

// Does the work, and turns the library's exceptions into problems.
template <class Work>
auto guarded(const std::filesystem::path& file, const Work& work) -> decltype(work()) {
  try {
    return work();
  } catch (const SQLite::Exception& e) {
    return ledger_problem(e, file);
  }
}

}  // namespace stickwright
