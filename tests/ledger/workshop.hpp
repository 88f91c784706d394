#pragma once
#include "ledger/store.hpp"
#include "support/temporary_folder.hpp"

#include <cmath>
#include <cstdint>
#include <numbers>

namespace platewright::test {

inline ledger::InstrumentRecord some_instrument() {
    ledger::InstrumentRecord record;
    record.label = "Test violin";
    record.kind = modes::InstrumentKind::viola;
    record.notes = "ordered by nobody";
    record.created = {1'700'000'000'123};
    return record;
}

inline ledger::PlateRecord some_plate(ledger::Id instrument) {
    ledger::PlateRecord record;
    record.instrument = instrument;
    record.part = modes::Part::top;
    record.label = "Top I";
    record.wood = "spruce, Fichte, épicéa";
    record.density_kg_m3 = 395.5;
    record.created = {1'700'000'001'000};
    return record;
}

inline ledger::SessionRecord some_session(ledger::Id plate, int day = 0) {
    ledger::SessionRecord record;
    record.plate = plate;
    record.begun = {1'700'000'100'000 + day * std::int64_t{86'400'000}};
    record.stage = modes::Stage::bar_fitted;
    record.mass_g = 71.25 - day;
    record.humidity_pct = 47.0;
    record.notes = "cold hands";
    return record;
}

/// A decaying tone with quiet before it; `number` makes its content its own.
inline taps::Tap some_sound(int number, std::size_t frames = 4800) {
    taps::Tap tap;
    tap.sample_rate_hz = 48000;
    tap.onset_frame = 1000 * number;
    tap.onset_index = 480;
    tap.peak_dbfs = -7.5;
    tap.noise_dbfs = -62.0;
    tap.samples.resize(frames);
    for (std::size_t i = tap.onset_index; i < frames; ++i) {
        const double t = static_cast<double>(i - tap.onset_index) / tap.sample_rate_hz;
        tap.samples[i] = static_cast<float>(
            0.4 * std::exp(-20.0 * t) * std::sin(2.0 * std::numbers::pi * (300.0 + number) * t));
    }
    return tap;
}

inline modes::Partial some_partial(double frequency_hz) {
    return {frequency_hz, 0.02, 64.0, 0.5, -3.0, -20.0, 0.1, 1.25, 0.01};
}

inline ledger::TapRecord some_tap(ledger::Id session, int number) {
    ledger::TapRecord record;
    record.session = session;
    record.at = {1'700'000'200'000 + number};
    record.spot = taps::Spot::lower_bout_left;
    record.analysis_version = "1";
    record.partials = {some_partial(150.0 + number), some_partial(310.0 + number)};
    return record;
}

inline ledger::ModeRecord some_mode(double frequency_hz, std::optional<int> number = {}) {
    ledger::ModeRecord record;
    record.analysis_version = "1";
    record.mode = {frequency_hz,
                   0.1,
                   0.4,
                   66.0,
                   0.7,
                   -2.0,
                   5,
                   {{taps::Spot::centre, -1.0, 0.5, 3}, {taps::Spot::upper_end, 0.0, 0.5, 2}}};
    if (number)
        record.name = modes::ModeName{*number, 0.9, false};
    return record;
}

/// A ledger with one plate and one session.
struct Workshop {
    explicit Workshop(const std::filesystem::path& folder)
        : store{folder}, instrument{store.add(some_instrument())},
          plate{store.add(some_plate(instrument))}, session{store.add(some_session(plate))} {}

    ledger::Id add_tap(int number) {
        return store.add(some_tap(session, number), some_sound(number));
    }

    ledger::Store store;
    ledger::Id instrument, plate, session;
};

} // namespace platewright::test
