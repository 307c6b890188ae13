// schema.h - the tables of the ledger and how an older file is brought up to date. Private to this room and its tests.
#pragma once
#include <span>

namespace stickwright {

inline constexpr int kLedgerMark = 0x53744c67;  // "StLg": PRAGMA application_id of a ledger

// One script a version: the first makes an empty file version 1, each later one goes on from the one before it.
std::span<const char* const> ledger_migrations();

}  // namespace stickwright
