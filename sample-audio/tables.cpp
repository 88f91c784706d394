#include "tables.hpp"

#include <fstream>
#include <stdexcept>

namespace demo {
namespace {

using nlohmann::ordered_json;

Event read_event(const ordered_json& item) {
    Event event;
    event.spot = item.value("spot", "");
    event.fault = item.value("fault", "");
    event.disturbance = item.value("disturbance", "");
    event.peak_dbfs = item.value("peak_dbfs", event.peak_dbfs);
    return event;
}

std::vector<Mode> read_modes(const ordered_json& session, const ordered_json& shapes) {
    std::vector<Mode> modes;
    for (const auto& row : session.at("modes")) {
        Mode mode;
        mode.number = row.at("number").get<int>();
        mode.hz = row.at("hz").get<double>();
        mode.q = row.at("q").get<double>();
        const auto& shape = shapes.at(std::to_string(mode.number));
        mode.radiates = shape.at("radiates").get<double>();
        for (const auto& [spot, amplitude] : shape.at("at").items()) {
            mode.shape[spot] = amplitude.get<double>();
        }
        modes.push_back(std::move(mode));
    }
    return modes;
}

Session read_session(const ordered_json& item, const ordered_json& shapes) {
    Session session;
    session.id = item.at("id").get<std::string>();
    session.seed = item.at("seed").get<std::uint64_t>();
    session.bits = item.value("bits", session.bits);
    session.room_dbfs = item.value("room_dbfs", session.room_dbfs);
    session.hum_hz = item.value("hum_hz", session.hum_hz);
    session.hum_dbfs = item.value("hum_dbfs", session.hum_dbfs);
    session.contact_ms = item.value("contact_ms", session.contact_ms);
    session.modes = read_modes(item, shapes);
    for (const auto& event : item.at("events")) {
        session.events.push_back(read_event(event));
    }
    for (const char* key : {"when", "stage", "mass_g", "temperature_c", "humidity_pct", "notes"}) {
        session.described[key] = item.at(key);
    }
    return session;
}

} // namespace

Plate read_table(const std::filesystem::path& file) {
    std::ifstream in(file);
    if (!in) {
        throw std::runtime_error("cannot open the modal table " + file.string());
    }
    try {
        const auto table = ordered_json::parse(in);
        Plate plate;
        for (const char* key : {"workshop", "instrument", "kind", "plate", "part", "wood"}) {
            plate.described[key] = table.at(key);
        }
        for (const auto& session : table.at("sessions")) {
            plate.sessions.push_back(read_session(session, table.at("shapes")));
        }
        return plate;
    } catch (const nlohmann::json::exception& wrong) {
        throw std::runtime_error(file.string() + ": " + wrong.what());
    }
}

} // namespace demo
