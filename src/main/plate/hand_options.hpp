#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"
#include "plate/shape/outline.hpp"

#include <span>
#include <string>
#include <vector>

namespace platewright::cli {

/// X:Y in mm, or a place's name. Fault, naming it, where it is neither or lies off the plate.
base::Result<plate::Point> place_of(const std::string& text, const plate::Outline& outline);

/// Pins and flex readings as the command line says them, for one session.
struct HandReadings {
    std::vector<ledger::PinRecord> pins;
    std::vector<ledger::FlexRecord> flexes;
};

/// Fault, naming what was given: a place off the plate or unknown, no words, a flex reading that is
/// not understood or that trends::flex_reading refuses, a number that no pin or flex reading of the
/// session bears. Nothing is stored here.
base::Result<HandReadings>
hand_readings(const ledger::SessionHistory& session, const plate::Outline& outline,
              std::span<const std::string> pins, std::span<const std::string> flexes,
              std::span<const ledger::Id> unpinned, std::span<const ledger::Id> unflexed);

} // namespace platewright::cli
