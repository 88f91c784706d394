#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace demo {

/// One mode of a plate in one session, as the modal table has it.
struct Mode {
    int number = 0;
    double hz = 0.0;
    double q = 0.0;                      // pi * frequency / decay rate of the amplitude
    double radiates = 0.0;               // sound per motion, relative to the other modes
    std::map<std::string, double> shape; // amplitude at each named spot, -1 to 1
};

/// One thing that happens in the room: a strike, good or bad, or a disturbance without one.
struct Event {
    std::string spot;        // empty: no strike
    std::string fault;       // empty: a good strike
    std::string disturbance; // "chair" or "voice"; with a spot, it ends just before the strike
    double peak_dbfs = -10.0;
};

struct Session {
    std::string id; // file name without ending
    std::uint64_t seed = 0;
    int bits = 16;
    double room_dbfs = -66.0; // rms of the room's noise
    double hum_hz = 0.0;      // 0: no mains hum
    double hum_dbfs = -60.0;  // amplitude of its fundamental
    double contact_ms = 2.6;  // how long the soft hammer stays on the wood
    double sound_s = 1.4;     // made of each strike: long past the ring of any mode in the tables
    std::vector<Mode> modes;
    std::vector<Event> events;
    nlohmann::ordered_json described; // when, stage, mass, climate, notes: copied to the manifest
};

struct Plate {
    nlohmann::ordered_json described; // workshop, instrument, plate: copied to the manifest
    std::vector<Session> sessions;
};

/// Reads one plate's table. Throws nlohmann::json::exception or std::runtime_error, naming the
/// file, when a key is missing or a mode has no shape.
Plate read_table(const std::filesystem::path& file);

} // namespace demo
