// raw_ledger.h - the ledger's file by way of the database library alone, as another program would open it.
#pragma once
#include <SQLiteCpp/SQLiteCpp.h>

#include <filesystem>
#include <string>

#include "ledger/ledger.h"
#include "ledger/schema.h"

namespace stickwright {

inline SQLite::Database raw(const std::filesystem::path& file) {
  return SQLite::Database(file.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, 5000);
}

inline Reading reading(std::int64_t nm, const std::string& set_up = "squat-octahedron", int stop = 1) {
  Reading r;
  r.set_up = set_up;
  r.stop = stop;
  r.value = Nm{nm};
  return r;
}

inline std::string code_of(const Result<Ledger>& r) {
  return r ? "none" : r.problem().code;
}

// A file as version 1 of the program left it: made by the first migration only.
inline void make_version_1(const std::filesystem::path& file) {
  SQLite::Database db = raw(file);
  db.exec(ledger_migrations()[0]);
  db.exec("PRAGMA application_id = " + std::to_string(kLedgerMark));
  db.exec("PRAGMA user_version = 1");
}

}  // namespace stickwright
