#include "ledger/connection.h"

#include <fmt/core.h>
#include <sqlite3.h>

#include <chrono>
#include <thread>

#include "ledger/schema.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;
using Database = std::unique_ptr<SQLite::Database>;

struct Stamp {
  int mark = 0, version = 0;
  bool empty = false;
  bool is_fresh() const { return mark == 0 && version == 0 && empty; }
};

Stamp stamp_of(SQLite::Database& db) {
  return {db.execAndGet("PRAGMA application_id").getInt(), db.execAndGet("PRAGMA user_version").getInt(),
          db.execAndGet("SELECT count(*) FROM sqlite_schema").getInt() == 0};
}

int newest_version() {
  return static_cast<int>(ledger_migrations().size());
}

// Nothing, or why this file is left alone.
std::optional<Problem> refused(const Stamp& stamp, const fs::path& file) {
  if (stamp.is_fresh()) return std::nullopt;
  if (stamp.mark != kLedgerMark)
    return Problem{"bad_ledger", file.string(),
                   "This is a database, but not the ledger of a batch. It was left as it is: move it away.", ""};
  if (stamp.version > newest_version())
    return Problem{"newer_ledger", file.string(),
                   fmt::format("This ledger was written by a later version of the program (ledger version {}, this "
                               "program knows {}). It was left as it is: use the later version.",
                               stamp.version, newest_version()),
                   ""};
  return std::nullopt;
}

// Looks at a file that is there without changing it.
std::optional<Problem> look_at(const fs::path& file, const LedgerLimits& limits) {
  std::error_code error;
  if (fs::is_directory(file, error))
    return Problem{"bad_ledger", file.string(), "Here the ledger should be, but this is a folder. Move it away.", ""};
  if (!fs::exists(file, error) || fs::file_size(file, error) == 0) return std::nullopt;
  SQLite::Database db(file.string(), SQLite::OPEN_READONLY, limits.wait_ms);
  return refused(stamp_of(db), file);
}

std::optional<Problem> set_up_connection(SQLite::Database& db, const fs::path& file, const LedgerLimits& limits) {
  db.exec("PRAGMA foreign_keys = ON");
  db.exec("PRAGMA recursive_triggers = ON");  // else INSERT OR REPLACE would get past the triggers on DELETE
  const std::string mode = db.execAndGet("PRAGMA journal_mode = WAL").getString();
  if (mode != "wal")
    return Problem{"cannot_write", file.string(),
                   "The ledger cannot keep its journal here (a network folder?). Move the batch to a local disk.", ""};
  db.exec("PRAGMA synchronous = FULL");
  if (limits.most_pages > 0) db.execAndGet("PRAGMA max_page_count = " + std::to_string(limits.most_pages));
  return std::nullopt;
}

std::optional<Problem> migrate(SQLite::Database& db, const fs::path& file) {
  if (stamp_of(db).version == newest_version()) return std::nullopt;
  SQLite::Transaction all(db, SQLite::TransactionBehavior::IMMEDIATE);
  const Stamp stamp = stamp_of(db);  // again: another program may have been here before the lock
  if (auto problem = refused(stamp, file)) return problem;
  for (int v = stamp.version; v < newest_version(); ++v) db.exec(ledger_migrations()[v]);
  db.exec("PRAGMA application_id = " + std::to_string(kLedgerMark));
  db.exec("PRAGMA user_version = " + std::to_string(newest_version()));
  all.commit();
  return std::nullopt;
}

Result<Database> open_once(const fs::path& file, const LedgerLimits& limits) {
  if (auto problem = look_at(file, limits)) return *problem;
  auto db =
      std::make_unique<SQLite::Database>(file.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, limits.wait_ms);
  if (auto problem = set_up_connection(*db, file, limits)) return *problem;
  if (auto problem = migrate(*db, file)) return *problem;
  return db;
}

}  // namespace

Problem ledger_problem(const SQLite::Exception& e, const fs::path& file) {
  const auto say = [&](const char* code, std::string text) {
    return Problem{code, file.string(), std::move(text), ""};
  };
  switch (e.getErrorCode()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return say("locked",
                 "Another program is writing to the ledger and does not let go. Nothing was written: try again.");
    case SQLITE_FULL:
      return say("cannot_write", "The disk is full. Nothing was written; make room and enter it again.");
    case SQLITE_CANTOPEN:
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
    case SQLITE_IOERR:
      return say("cannot_write", fmt::format("The ledger cannot be written here: {}. Nothing was written.", e.what()));
    case SQLITE_NOTADB:
      return say("bad_ledger", "This is no ledger. It was left as it is: move it away.");
    case SQLITE_CORRUPT:
    case SQLITE_ERROR:
      return say("bad_ledger",
                 fmt::format("The ledger is damaged: {}. Nothing was written; go back to the last copy.", e.what()));
    default:
      throw e;
  }
}

// Making the file, and turning its journal on, ends at once when another program does the same: so it is tried again.
Result<Database> open_database(const fs::path& file, const LedgerLimits& limits) {
  const auto end = std::chrono::steady_clock::now() + std::chrono::milliseconds(limits.wait_ms);
  for (;;) {
    auto opened = guarded(file, [&] { return open_once(file, limits); });
    if (opened || opened.problem().code != "locked" || std::chrono::steady_clock::now() >= end) return opened;
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  }
}

}  // namespace stickwright
