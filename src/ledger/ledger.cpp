#include "ledger/ledger.h"

#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <map>

#include "ledger/connection.h"
#include "text/utf8.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;
using SQLite::Statement;

std::string now_utc() {
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  const std::time_t seconds = std::chrono::duration_cast<std::chrono::seconds>(now).count();
  const auto ms = std::chrono::duration_cast<std::chrono::milliseconds>(now).count() % 1000;
  std::tm utc = {};
  gmtime_r(&seconds, &utc);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z", utc.tm_year + 1900, utc.tm_mon + 1, utc.tm_mday,
                     utc.tm_hour, utc.tm_min, utc.tm_sec, ms);
}

Entered entered_of(const std::string& text) {
  return text == "typed" ? Entered::typed : text == "csv" ? Entered::csv : Entered::piped;
}

// Nothing, or that a text cannot be kept: what is stored has to be shown and written as JSON ever after.
std::optional<Problem> bad_text(std::initializer_list<std::string_view> texts) {
  for (const std::string_view text : texts)
    if (!is_one_line(text) || text.size() > kLongestText)
      return Problem{"bad_text", "",
                     fmt::format("A name or a note has to be one line of UTF-8 text, at most {} bytes.", kLongestText),
                     ""};
  return std::nullopt;
}

std::optional<Problem> bad_text(const Reading& r) {
  return bad_text({r.set_up, r.stick, r.wood, r.instrument, r.by, r.note, r.taken_at, r.client_key});
}

void bind_or_null(Statement& s, int place, const std::string& text) {
  if (text.empty())
    s.bind(place);
  else
    s.bind(place, text);
}

// Writes the part that all kinds of entries have. Prepared once for all entries of a call.
class EntryWriter {
 public:
  explicit EntryWriter(SQLite::Database& db)
      : db_(db), insert_(db, "INSERT INTO entries(at, kind, entered_by, note) VALUES (?, ?, ?, ?)") {}
  Stored add(const char* kind, const std::string& by, const std::string& note) {
    const Stored stored{.id = 0, .at = now_utc()};
    insert_.bind(1, stored.at);
    insert_.bind(2, kind);
    insert_.bind(3, by);
    insert_.bind(4, note);
    insert_.exec();
    insert_.reset();
    return {.id = db_.getLastInsertRowid(), .at = stored.at};
  }

 private:
  SQLite::Database& db_;
  Statement insert_;
};

Stored add_entry(SQLite::Database& db, const char* kind, const std::string& by, const std::string& note) {
  return EntryWriter(db).add(kind, by, note);
}

class ReadingWriter {
 public:
  explicit ReadingWriter(SQLite::Database& db)
      : entries_(db),
        insert_(db,
                "INSERT INTO readings(id, set_up, stop, side, value_nm, stick, wood, instrument, entered, taken_at, "
                "client_key, block) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"),
        by_key_(db, "SELECT e.id, e.at, r.block FROM readings r JOIN entries e ON e.id = r.id WHERE r.client_key = ?"),
        last_block_(
            db, "SELECT coalesce(max(block), 0) FROM readings WHERE set_up = ? AND wood = ? AND block IS NOT NULL") {}

  Stored add(const Reading& r) {
    if (const auto before = stored_with_key(r.client_key)) return *before;
    const int block = number_of(r);
    Stored stored = entries_.add("reading", r.by, r.note);
    int place = 0;
    insert_.bind(++place, stored.id);
    insert_.bind(++place, r.set_up);
    insert_.bind(++place, r.stop);
    insert_.bind(++place, r.side);
    insert_.bind(++place, r.value.v);
    insert_.bind(++place, r.stick);
    insert_.bind(++place, r.wood);
    insert_.bind(++place, r.instrument);
    insert_.bind(++place, to_string(r.entered));
    bind_or_null(insert_, ++place, r.taken_at);
    bind_or_null(insert_, ++place, r.client_key);
    if (++place; block > 0)
      insert_.bind(place, block);
    else
      insert_.bind(place);
    insert_.exec();
    insert_.reset();
    stored.block = before_ = block;
    return stored;
  }

 private:
  std::optional<Stored> stored_with_key(const std::string& key) {
    if (key.empty()) return std::nullopt;
    by_key_.reset();
    by_key_.bind(1, key);
    if (!by_key_.executeStep()) return std::nullopt;
    before_ = by_key_.getColumn(2).getInt();
    return Stored{by_key_.getColumn(0).getInt64(), by_key_.getColumn(1).getString(), true, before_};
  }
  int number_of(const Reading& r) {
    if (r.block == kSameBlock) return before_;
    if (r.block != kNextBlock) return r.block;
    last_block_.reset();
    last_block_.bind(1, r.set_up);
    last_block_.bind(2, r.wood);
    last_block_.executeStep();
    const int last = last_block_.getColumn(0).getInt();
    last_block_.reset();
    return last + 1;
  }
  EntryWriter entries_;
  Statement insert_, by_key_, last_block_;
  int before_ = 0;  // number of the block of the reading before
};

// The entry that a change of `id` is about: of a change, what that one was about. 0: there is none.
struct Target {
  EntryId id = 0;
  std::string kind;
};
Target target_of(SQLite::Database& db, EntryId id) {
  Statement s(db,
              "SELECT t.id, t.kind FROM entries e LEFT JOIN changes c ON c.id = e.id "
              "JOIN entries t ON t.id = coalesce(c.corrects, e.id) WHERE e.id = ?");
  s.bind(1, id);
  if (!s.executeStep()) return {};
  return {s.getColumn(0).getInt64(), s.getColumn(1).getString()};
}

Result<Stored> add_change(SQLite::Database& db, EntryId id, std::optional<Nm> value, const std::string& by,
                          const std::string& note) {
  if (auto problem = bad_text({by, note})) return *problem;
  SQLite::Transaction all(db, SQLite::TransactionBehavior::IMMEDIATE);
  const Target target = target_of(db, id);
  if (target.id == 0)
    return Problem{"unknown_entry", fmt::format("entry {}", id), "There is no such entry in the ledger.", ""};
  if (value && target.kind != "reading")
    return Problem{"unknown_entry", fmt::format("entry {}", id), "This entry is no reading: it can be withdrawn only.",
                   ""};
  const Stored stored = add_entry(db, "change", by, note);
  Statement s(db, "INSERT INTO changes(id, corrects, value_nm) VALUES (?, ?, ?)");
  s.bind(1, stored.id);
  s.bind(2, target.id);
  if (value)
    s.bind(3, value->v);
  else
    s.bind(3);
  s.exec();
  all.commit();
  return stored;
}

constexpr const char* kReadings =
    "SELECT e.id, e.at, e.entered_by, e.note, r.set_up, r.stop, r.value_nm, r.stick, r.wood, r.instrument, r.entered, "
    "r.taken_at, r.client_key, r.side, r.block FROM readings r JOIN entries e ON e.id = r.id ";
constexpr const char* kChanges =
    "SELECT e.id, e.at, e.entered_by, e.note, c.value_nm, c.corrects FROM changes c JOIN entries e ON e.id = c.id "
    "JOIN readings r ON r.id = c.corrects ";

KeptReading reading_in(Statement& s) {
  KeptReading k;
  k.id = s.getColumn(0).getInt64();
  k.at = s.getColumn(1).getString();
  Reading& r = k.reading;
  r.by = s.getColumn(2).getString();
  r.note = s.getColumn(3).getString();
  r.set_up = s.getColumn(4).getString();
  r.stop = s.getColumn(5).getInt();
  r.value = Nm{s.getColumn(6).getInt64()};
  r.stick = s.getColumn(7).getString();
  r.wood = s.getColumn(8).getString();
  r.instrument = s.getColumn(9).getString();
  r.entered = entered_of(s.getColumn(10).getString());
  r.taken_at = s.getColumn(11).getString();
  r.client_key = s.getColumn(12).getString();
  r.side = s.getColumn(13).getInt();
  r.block = s.getColumn(14).getInt();
  return k;
}

Change change_in(Statement& s) {
  Change c{s.getColumn(0).getInt64(), s.getColumn(1).getString(), s.getColumn(2).getString(),
           s.getColumn(3).getString(), std::nullopt};
  if (!s.getColumn(4).isNull()) c.value = Nm{s.getColumn(4).getInt64()};
  return c;
}

// One look at the file: what another program writes meanwhile is in all of it or in nothing.
template <class Bind>
std::vector<KeptReading> readings_where(SQLite::Database& db, const std::string& where, const Bind& bind) {
  SQLite::Transaction one_look(db);
  std::vector<KeptReading> out;
  Statement readings(db, kReadings + where + " ORDER BY e.id");
  bind(readings);
  while (readings.executeStep()) out.push_back(reading_in(readings));
  Statement changes(db, kChanges + where + " ORDER BY e.id");
  bind(changes);
  while (changes.executeStep()) {
    const EntryId of = changes.getColumn(5).getInt64();
    const auto at =
        std::lower_bound(out.begin(), out.end(), of, [](const KeptReading& k, EntryId id) { return k.id < id; });
    if (at != out.end() && at->id == of) at->changes.push_back(change_in(changes));
  }
  return out;
}

Stored insert_truing(SQLite::Database& db, const Truing& t) {
  const Stored stored = add_entry(db, "truing", t.by, t.note);
  Statement s(db, "INSERT INTO truings VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)");
  int place = 0;
  s.bind(++place, stored.id);
  for (const Estimate* e : {&t.miter, &t.tilt, &t.roll, &t.pitch}) {
    s.bind(++place, e->value);
    s.bind(++place, e->u);
  }
  s.exec();
  return stored;
}

KeptTruing truing_in(Statement& s) {
  KeptTruing k;
  k.id = s.getColumn(0).getInt64();
  k.at = s.getColumn(1).getString();
  k.truing.by = s.getColumn(2).getString();
  k.truing.note = s.getColumn(3).getString();
  int place = 3;
  for (Estimate* e : {&k.truing.miter, &k.truing.tilt, &k.truing.roll, &k.truing.pitch}) {
    e->value = s.getColumn(++place).getDouble();
    e->u = s.getColumn(++place).getDouble();
  }
  k.withdrawn = s.getColumn(12).getInt() != 0;
  return k;
}

KeptLeaf leaf_in(Statement& s) {
  KeptLeaf k;
  k.id = s.getColumn(0).getInt64();
  k.at = s.getColumn(1).getString();
  k.leaf = {s.getColumn(4).getString(), s.getColumn(5).getInt(), Nm{s.getColumn(6).getInt64()},
            s.getColumn(2).getString(), s.getColumn(3).getString()};
  k.withdrawn = s.getColumn(7).getInt() != 0;
  return k;
}

template <class Work>
Result<Stored> in_one_transaction(SQLite::Database& db, const Work& work) {
  SQLite::Transaction all(db, SQLite::TransactionBehavior::IMMEDIATE);
  const Stored stored = work();
  all.commit();
  return stored;
}

}  // namespace

const char* to_string(Entered entered) {
  return entered == Entered::typed ? "typed" : entered == Entered::piped ? "piped" : "csv";
}

fs::path ledger_path(const fs::path& batch_file) {
  return fs::path(batch_file).replace_extension(".ledger");
}

struct Ledger::Impl {
  fs::path file;
  std::unique_ptr<SQLite::Database> db;
};

Ledger::Ledger(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Ledger::~Ledger() = default;
Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;

Result<Ledger> Ledger::open(const fs::path& file, const LedgerLimits& limits) {
  auto db = open_database(file, limits);
  if (!db) return db.problem();
  return Ledger(std::make_unique<Impl>(Impl{file, db.take()}));
}

Result<std::vector<Stored>> Ledger::add_readings(std::span<const Reading> readings) {
  for (const Reading& r : readings)
    if (auto problem = bad_text(r)) return *problem;
  return guarded(impl_->file, [&]() -> Result<std::vector<Stored>> {
    std::vector<Stored> stored;
    SQLite::Transaction all(*impl_->db, SQLite::TransactionBehavior::IMMEDIATE);
    ReadingWriter writer(*impl_->db);
    for (const Reading& r : readings) stored.push_back(writer.add(r));
    all.commit();
    return stored;
  });
}

Result<Stored> Ledger::correct(EntryId id, Nm value, const std::string& by, const std::string& note) {
  return guarded(impl_->file, [&] { return add_change(*impl_->db, id, value, by, note); });
}

Result<Stored> Ledger::withdraw(EntryId id, const std::string& by, const std::string& note) {
  return guarded(impl_->file, [&] { return add_change(*impl_->db, id, std::nullopt, by, note); });
}

Result<Stored> Ledger::add_truing(const Truing& truing) {
  if (auto problem = bad_text({truing.by, truing.note})) return *problem;
  return guarded(impl_->file,
                 [&] { return in_one_transaction(*impl_->db, [&] { return insert_truing(*impl_->db, truing); }); });
}

Result<Stored> Ledger::add_leaf(const LeafUsed& leaf) {
  if (auto problem = bad_text({leaf.set_up, leaf.by, leaf.note})) return *problem;
  return guarded(impl_->file, [&] {
    return in_one_transaction(*impl_->db, [&] {
      const Stored stored = add_entry(*impl_->db, "leaf", leaf.by, leaf.note);
      Statement s(*impl_->db, "INSERT INTO leaves VALUES (?, ?, ?, ?)");
      s.bind(1, stored.id);
      s.bind(2, leaf.set_up);
      s.bind(3, leaf.stop);
      s.bind(4, leaf.thickness.v);
      s.exec();
      return stored;
    });
  });
}

Result<std::vector<KeptReading>> Ledger::readings() {
  return guarded(impl_->file, [&]() -> Result<std::vector<KeptReading>> {
    return readings_where(*impl_->db, "", [](Statement&) {});
  });
}

Result<std::vector<KeptReading>> Ledger::readings_of(const std::string& set_up, int stop, int side) {
  return guarded(impl_->file, [&]() -> Result<std::vector<KeptReading>> {
    return readings_where(*impl_->db, "WHERE r.set_up = ? AND r.stop = ? AND r.side = ?", [&](Statement& s) {
      s.bind(1, set_up);
      s.bind(2, stop);
      s.bind(3, side);
    });
  });
}

Result<std::vector<KeptTruing>> Ledger::truings() {
  return guarded(impl_->file, [&]() -> Result<std::vector<KeptTruing>> {
    std::vector<KeptTruing> out;
    Statement s(*impl_->db,
                "SELECT e.id, e.at, e.entered_by, e.note, miter_rad, miter_u_rad, tilt_rad, tilt_u_rad, roll_rad, "
                "roll_u_rad, pitch_rad, pitch_u_rad, EXISTS (SELECT 1 FROM changes WHERE corrects = e.id) "
                "FROM truings t JOIN entries e ON e.id = t.id ORDER BY e.id");
    while (s.executeStep()) out.push_back(truing_in(s));
    return out;
  });
}

Result<std::vector<KeptLeaf>> Ledger::leaves_applied() {
  return guarded(impl_->file, [&]() -> Result<std::vector<KeptLeaf>> {
    std::vector<KeptLeaf> out;
    Statement s(*impl_->db,
                "SELECT e.id, e.at, e.entered_by, e.note, set_up, stop, thickness_nm, "
                "EXISTS (SELECT 1 FROM changes WHERE corrects = e.id) "
                "FROM leaves l JOIN entries e ON e.id = l.id ORDER BY e.id");
    while (s.executeStep()) out.push_back(leaf_in(s));
    return out;
  });
}

}  // namespace stickwright
