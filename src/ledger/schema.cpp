#include "ledger/schema.h"

namespace stickwright {
namespace {

constexpr const char* kVersion1 = R"(
CREATE TABLE entries(
  id INTEGER PRIMARY KEY,
  at TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('reading', 'change', 'truing', 'leaf')),
  entered_by TEXT NOT NULL,
  note TEXT NOT NULL
) STRICT;

CREATE TABLE readings(
  id INTEGER PRIMARY KEY REFERENCES entries(id),
  set_up TEXT NOT NULL,
  stop INTEGER NOT NULL CHECK (stop >= 1),
  value_nm INTEGER NOT NULL CHECK (value_nm > 0),
  stick TEXT NOT NULL,
  wood TEXT NOT NULL,
  instrument TEXT NOT NULL,
  entered TEXT NOT NULL CHECK (entered IN ('typed', 'piped', 'csv'))
) STRICT;
CREATE INDEX readings_of_stop ON readings(set_up, stop);

CREATE TABLE changes(
  id INTEGER PRIMARY KEY REFERENCES entries(id),
  corrects INTEGER NOT NULL REFERENCES entries(id),
  value_nm INTEGER CHECK (value_nm > 0)  -- null: withdrawn
) STRICT;
CREATE INDEX changes_of ON changes(corrects);

CREATE TABLE truings(
  id INTEGER PRIMARY KEY REFERENCES entries(id),
  miter_rad REAL NOT NULL, miter_u_rad REAL NOT NULL,
  tilt_rad REAL NOT NULL, tilt_u_rad REAL NOT NULL,
  roll_rad REAL NOT NULL, roll_u_rad REAL NOT NULL,
  pitch_rad REAL NOT NULL, pitch_u_rad REAL NOT NULL
) STRICT;

CREATE TABLE leaves(
  id INTEGER PRIMARY KEY REFERENCES entries(id),
  set_up TEXT NOT NULL,
  stop INTEGER NOT NULL CHECK (stop >= 1),
  thickness_nm INTEGER NOT NULL CHECK (thickness_nm > 0)
) STRICT;

CREATE TRIGGER entries_stay BEFORE UPDATE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entries_kept BEFORE DELETE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
CREATE TRIGGER readings_stay BEFORE UPDATE ON readings BEGIN SELECT RAISE(ABORT, 'readings are never changed'); END;
CREATE TRIGGER readings_kept BEFORE DELETE ON readings BEGIN SELECT RAISE(ABORT, 'readings are never deleted'); END;
CREATE TRIGGER changes_stay BEFORE UPDATE ON changes BEGIN SELECT RAISE(ABORT, 'changes are never changed'); END;
CREATE TRIGGER changes_kept BEFORE DELETE ON changes BEGIN SELECT RAISE(ABORT, 'changes are never deleted'); END;
CREATE TRIGGER truings_stay BEFORE UPDATE ON truings BEGIN SELECT RAISE(ABORT, 'truings are never changed'); END;
CREATE TRIGGER truings_kept BEFORE DELETE ON truings BEGIN SELECT RAISE(ABORT, 'truings are never deleted'); END;
CREATE TRIGGER leaves_stay BEFORE UPDATE ON leaves BEGIN SELECT RAISE(ABORT, 'leaves are never changed'); END;
CREATE TRIGGER leaves_kept BEFORE DELETE ON leaves BEGIN SELECT RAISE(ABORT, 'leaves are never deleted'); END;
)";

// A reading may say when it was taken, and may carry a key by which it is known when it is sent twice.
constexpr const char* kVersion2 = R"(
ALTER TABLE readings ADD COLUMN taken_at TEXT;
ALTER TABLE readings ADD COLUMN client_key TEXT;
CREATE UNIQUE INDEX readings_by_key ON readings(client_key) WHERE client_key IS NOT NULL;
)";

// A reading may be of a width: `side` says across which sides of the stick, and `stop` is 0. It may name the block. A
// table with another CHECK has to be made anew; its triggers and indices go with the old one.
constexpr const char* kVersion3 = R"(
CREATE TABLE readings_3(
  id INTEGER PRIMARY KEY REFERENCES entries(id),
  set_up TEXT NOT NULL,
  stop INTEGER NOT NULL CHECK (stop >= 0),
  side INTEGER NOT NULL CHECK (side IN (0, 1, 2)),
  value_nm INTEGER NOT NULL CHECK (value_nm > 0),
  stick TEXT NOT NULL,
  wood TEXT NOT NULL,
  instrument TEXT NOT NULL,
  entered TEXT NOT NULL CHECK (entered IN ('typed', 'piped', 'csv')),
  taken_at TEXT,
  client_key TEXT,
  block INTEGER CHECK (block > 0),  -- null: nobody wrote a number on it
  CHECK ((stop = 0) = (side > 0))
) STRICT;
INSERT INTO readings_3
  SELECT id, set_up, stop, 0, value_nm, stick, wood, instrument, entered, taken_at, client_key, NULL FROM readings;
DROP TABLE readings;
ALTER TABLE readings_3 RENAME TO readings;
CREATE INDEX readings_of_size ON readings(set_up, stop, side);
CREATE UNIQUE INDEX readings_by_key ON readings(client_key) WHERE client_key IS NOT NULL;
CREATE INDEX readings_of_block ON readings(set_up, wood, block) WHERE block IS NOT NULL;
CREATE TRIGGER readings_stay BEFORE UPDATE ON readings BEGIN SELECT RAISE(ABORT, 'readings are never changed'); END;
CREATE TRIGGER readings_kept BEFORE DELETE ON readings BEGIN SELECT RAISE(ABORT, 'readings are never deleted'); END;
)";

constexpr const char* kMigrations[] = {kVersion1, kVersion2, kVersion3};

}  // namespace

std::span<const char* const> ledger_migrations() {
  return kMigrations;
}

}  // namespace stickwright
