#include "bench/settings.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::bench {
namespace {

double number_setting(const ledger::Store& store, const char* key) {
    const auto text = store.setting(key);
    return text ? base::parse_number(*text).value_or(0) : 0;
}

constexpr const char* k_air_setting = "trends.air";
constexpr trends::Air k_usual_air{20.0, 50.0};

} // namespace

bool is_room_air(const trends::Air& air) {
    return air.temperature_c >= -20 && air.temperature_c <= 60 && air.humidity_pct >= 0 &&
           air.humidity_pct <= 100;
}

std::optional<trends::Air> air_from(const std::string& text) {
    const auto colon = std::min(text.find(':'), text.size());
    const auto celsius = base::parse_number(text.substr(0, colon));
    const auto percent = base::parse_number(text.substr(std::min(colon + 1, text.size())));
    const auto air =
        celsius && percent ? std::optional(trends::Air{*celsius, *percent}) : std::nullopt;
    return air && is_room_air(*air) ? air : std::nullopt;
}

trends::Air remembered_air(const ledger::Store& store) {
    return air_from(store.setting(k_air_setting).value_or("")).value_or(k_usual_air);
}

void remember_air(ledger::Store& store, const trends::Air& air) {
    store.set_setting(k_air_setting, fmt::format("{}:{}", air.temperature_c, air.humidity_pct));
}

audio::InputChoice remembered_input(const ledger::Store& store) {
    return {.name = store.setting("input.name").value_or(""),
            .sample_rate_hz = number_setting(store, "input.rate_hz"),
            .channel = static_cast<int>(number_setting(store, "input.channel")),
            // counted from 1, so that what was never set is none
            .force_channel = static_cast<int>(number_setting(store, "input.force_channel")) - 1,
            .force_newton = number_setting(store, "input.force_newton")};
}

void remember_input(ledger::Store& store, const audio::InputChoice& choice) {
    store.set_setting("input.name", choice.name);
    store.set_setting("input.rate_hz", base::fixed(choice.sample_rate_hz, 0));
    store.set_setting("input.channel", std::to_string(choice.channel));
    store.set_setting("input.force_channel", std::to_string(choice.force_channel + 1));
    store.set_setting("input.force_newton", fmt::format("{}", choice.force_newton));
}

modes::BandChoice remembered_band(const ledger::Store& store) {
    const modes::BandChoice band{number_setting(store, "band.low_hz"),
                                 number_setting(store, "band.high_hz")};
    const auto is_heard = [](double hz) { return hz == 0 || (hz >= 10 && hz <= 20'000); };
    return is_heard(band.low_hz) && is_heard(band.high_hz) ? band : modes::BandChoice{};
}

void remember_band(ledger::Store& store, const modes::BandChoice& band) {
    store.set_setting("band.low_hz", fmt::format("{}", band.low_hz));
    store.set_setting("band.high_hz", fmt::format("{}", band.high_hz));
}

modes::UsualBand usual_band(const ledger::Store& store, const ledger::PlateHistory& of) {
    return modes::band_of(of.instrument.kind, of.plate.part, remembered_band(store));
}

std::optional<ledger::Id> remembered_plate(const ledger::Store& store) {
    const auto plate = static_cast<ledger::Id>(number_setting(store, "plate.last"));
    return plate != 0 && store.history(plate) ? std::optional{plate} : std::nullopt;
}

void remember_plate(ledger::Store& store, ledger::Id plate) {
    store.set_setting("plate.last", std::to_string(plate));
}

} // namespace platewright::bench
