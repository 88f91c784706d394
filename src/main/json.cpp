#include "main/json.hpp"

#include "base/clock.hpp"
#include "base/interval.hpp"
#include "main/console.hpp"

namespace platewright::cli {

Json to_json(const modes::Partial& p) {
    return {{"hz", p.frequency_hz},    {"hz_sd", p.frequency_sd_hz}, {"q", p.q},
            {"q_sd", p.q_sd},          {"level_db", p.level_db},     {"level_dbfs", p.level_dbfs},
            {"phase_rad", p.phase_rad}};
}

Json to_json(const modes::Mode& m) {
    const modes::Interval hz = modes::interval(m.frequency_hz, m.frequency_sd_hz, m.taps);
    const modes::Interval q = modes::interval(m.q, m.q_sd, m.taps);
    Json json{{"hz", m.frequency_hz},
              {"hz_sd", m.frequency_sd_hz},
              {"hz_low", hz.low},
              {"hz_high", hz.high},
              {"freedom", or_null(m.taps > 1 ? std::optional(m.taps - 1) : std::nullopt)},
              {"spread_hz", m.spread_hz},
              {"q", m.q},
              {"q_sd", m.q_sd},
              {"q_low", q.low},
              {"q_high", q.high},
              {"level_db", m.level_db},
              {"taps", m.taps}};
    if (!m.spots.empty()) {
        Json spots = Json::object();
        for (const modes::SpotLevel& spot : m.spots)
            spots[std::string(taps::to_word(spot.spot))] = spot.level_db;
        json["spots_db"] = spots;
    }
    return json;
}

Json to_json(const modes::NamedMode& m) {
    Json json = to_json(m.mode);
    json["number"] = m.name ? Json(m.name->number) : Json(nullptr);
    if (m.name) {
        json["confidence"] = m.name->confidence;
        json["by_maker"] = m.name->by_maker;
    }
    return json;
}

Json to_json(const bench::HeardTap& heard) {
    Json json{{"onset_s", heard.tap.onset_s()},
              {"peak_dbfs", heard.tap.peak_dbfs},
              {"noise_dbfs", heard.tap.noise_dbfs},
              {"verdict", taps::to_word(heard.tap.verdict)}};
    if (heard.tap.spot != taps::Spot::unknown)
        json["spot"] = taps::to_word(heard.tap.spot);
    json["partials"] = to_array(heard.partials);
    return json;
}

Json to_json(const ledger::SessionRecord& s) {
    return {{"id", s.id},
            {"begun", base::to_iso(s.begun)},
            {"stage", modes::to_word(s.stage)},
            {"mass_g", or_null(s.mass_g)},
            {"temperature_c", or_null(s.temperature_c)},
            {"humidity_pct", or_null(s.humidity_pct)},
            {"notes", s.notes}};
}

Json to_json(const trends::Change& c) {
    return {{"hz", c.hz},
            {"hz_sd", c.hz_sd},
            {"hz_95", base::plus_minus(c.hz_sd)},
            {"cents", c.cents},
            {"mass_g", or_null(c.mass_g)},
            {"hz_per_g", or_null(c.hz_per_g)}};
}

void print(const Json& json, bool indented) {
    put(json.dump(indented ? 1 : -1, ' ', false, Json::error_handler_t::replace) + "\n");
}

} // namespace platewright::cli
