#include "main/json.hpp"

#include "base/interval.hpp"
#include "main/console.hpp"

namespace platewright::cli {

Json plate_json(const ledger::PlateHistory& history) {
    Json json = history.plate;
    json["instrument"] = history.instrument.label;
    return json;
}

void print(const Json& json, bool indented) {
    put(json.dump(indented ? 1 : -1, ' ', false, Json::error_handler_t::replace) + "\n");
}

} // namespace platewright::cli

namespace nlohmann {
using platewright::base::plus_minus;
using platewright::cli::Json;
namespace modes = platewright::modes;
namespace taps = platewright::taps;

void adl_serializer<modes::Mode>::to_json(Json& json, const modes::Mode& m) {
    const modes::Interval hz = modes::interval(m.frequency_hz, m.frequency_sd_hz, m.taps);
    const modes::Interval q = modes::interval(m.q, m.q_sd, m.taps);
    json = platewright::cli::described(m);
    json.update({{"hz_low", hz.low},
                 {"hz_high", hz.high},
                 {"q_low", q.low},
                 {"q_high", q.high},
                 {"freedom", platewright::cli::or_null(m.taps > 1, m.taps - 1)}});
    for (const modes::SpotLevel& spot : m.spots)
        json["spots_db"][std::string(taps::to_word(spot.spot))] = spot.level_db;
}

void adl_serializer<modes::NamedMode>::to_json(Json& json, const modes::NamedMode& m) {
    json = m.mode;
    json["number"] = platewright::cli::number_of(m.name);
    if (m.name) {
        json["confidence"] = m.name->confidence;
        json["by_maker"] = m.name->by_maker;
    }
}

void adl_serializer<platewright::bench::HeardTap>::to_json(
    Json& json, const platewright::bench::HeardTap& heard) {
    json = {{"onset_s", heard.tap.onset_s()},
            {"peak_dbfs", heard.tap.peak_dbfs},
            {"noise_dbfs", heard.tap.noise_dbfs},
            {"verdict", heard.tap.verdict}};
    if (heard.tap.spot != taps::Spot::unknown)
        json["spot"] = heard.tap.spot;
    json["partials"] = heard.partials;
}

void adl_serializer<platewright::trends::Change>::to_json(Json& json,
                                                          const platewright::trends::Change& c) {
    json = {{"hz", c.hz},       {"hz_sd", c.hz_sd},   {"hz_95", plus_minus(c.hz_sd)},
            {"cents", c.cents}, {"mass_g", c.mass_g}, {"hz_per_g", c.hz_per_g}};
}

} // namespace nlohmann
