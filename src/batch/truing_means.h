// truing_means.h - what the shop trues its saw with: square, lever arms, leaves.
#pragma once
#include <array>

#include "batch/known_saw.h"
#include "truing/turn.h"

namespace stickwright {

// What is known of stick and square before the readings.
//   source   where the shop file says nothing of its square: DIN 875 grade 0, 5 um and 1 um for each 50 mm of arm, from
//            memory
TruingKnowledge truing_knowledge(const Shop& shop, Mm stick);

// By Error. The cradle is the first of the shop file.
std::array<TurnMeans, 4> turn_means(const Shop& shop);

}  // namespace stickwright
