#pragma once
#include "base/clock.hpp"
#include "ledger/shape_record.hpp"
#include "ledger/wood_record.hpp"
#include "modes/mode.hpp"
#include "modes/partial.hpp"
#include "modes/subject.hpp"
#include "taps/spot.hpp"
#include "taps/verdict.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace platewright::ledger {

/// What a workshop keeps, as plain values. An id of 0 means: not yet in a ledger.
using Id = std::int64_t;

struct InstrumentRecord {
    bool operator==(const InstrumentRecord&) const = default;
    Id id = 0;
    std::string label;
    modes::InstrumentKind kind = modes::InstrumentKind::violin;
    std::optional<double> body_length_mm; ///< nothing: the full size
    std::string notes;
    base::Timestamp created;
};

struct PlateRecord {
    bool operator==(const PlateRecord&) const = default;
    Id id = 0;
    Id instrument = 0;
    modes::Part part = modes::Part::back;
    std::string label;
    std::string wood; ///< species, origin, cut, in the maker's words
    std::optional<double> density_kg_m3;
    std::string notes; ///< outline, arching, grain, history
    base::Timestamp created;
};

struct SessionRecord {
    bool operator==(const SessionRecord&) const = default;
    Id id = 0;
    Id plate = 0;
    base::Timestamp begun;
    modes::Stage stage = modes::Stage::graduating;
    std::optional<double> mass_g;
    std::optional<double> temperature_c;
    std::optional<double> humidity_pct; ///< relative humidity, 0..100
    std::string notes;
};

struct TapRecord {
    bool operator==(const TapRecord&) const = default;
    Id id = 0;
    Id session = 0;
    base::Timestamp at;
    taps::Verdict verdict = taps::Verdict::accepted;
    taps::Spot spot = taps::Spot::unknown;
    double sample_rate_hz = 0;
    std::int64_t onset_frame = 0; ///< counted from the start of the stream or file it came from
    std::int64_t onset_index = 0; ///< of the strike's first sample within the kept recording
    double peak_dbfs = 0;
    double noise_dbfs = 0;
    std::string recording; ///< content hash of the kept FLAC; empty where none is kept
    std::string analysis_version;
    std::vector<modes::Partial> partials;
    Id weighing = 0; ///< the one whose mass lay on the plate; 0: none
};

struct ModeRecord {
    bool operator==(const ModeRecord&) const = default;
    Id id = 0;
    Id session = 0;
    std::string analysis_version;
    modes::Mode mode;
    std::optional<modes::ModeName> name;
};

/// A session that the maker liked, which others are set against.
struct ReferenceRecord {
    Id id = 0;
    Id session = 0;
    std::string label;
};

/// One session with all that belongs to it; taps and modes of the newest analysis, oldest tap
/// first.
struct SessionHistory {
    bool operator==(const SessionHistory&) const = default;
    SessionRecord session;
    std::vector<TapRecord> taps;
    std::vector<ModeRecord> modes; ///< ascending frequency
    MapRecord thickness;
    std::vector<PinRecord> pins;
    std::vector<FlexRecord> flex;
    std::vector<WeighingRecord> weighings; ///< oldest first
    std::optional<PlanRecord> plan;        ///< the newest that was made in this session
};

/// Where the session of this number stands among these; nothing where it is none of them.
inline std::optional<std::size_t> index_of(const std::vector<SessionHistory>& sessions, Id id) {
    for (std::size_t i = 0; i < sessions.size(); ++i)
        if (sessions[i].session.id == id)
            return i;
    return std::nullopt;
}
/// The same as itself; or null.
inline const SessionHistory* session_in(const std::vector<SessionHistory>& sessions, Id id) {
    const auto at = index_of(sessions, id);
    return at ? &sessions[*at] : nullptr;
}

/// All that is kept of one plate, or of the closed body, sessions in the order of their dates.
struct PlateHistory {
    bool operator==(const PlateHistory&) const = default;
    InstrumentRecord instrument;
    PlateRecord plate;
    std::optional<FormRecord> form;    ///< nothing: not said yet
    std::optional<WoodHistory> wood;   ///< that it was carved from, where it was said
    std::vector<TargetRecord> targets; ///< ascending number
    std::vector<SessionHistory> sessions;
};

/// A line of the list of what the ledger holds.
struct PlateSummary {
    PlateRecord plate;
    int sessions = 0;
    std::optional<SessionRecord> newest;
    std::string session_notes; ///< of all its sessions, to be searched; a line each
};
struct InstrumentSummary {
    InstrumentRecord instrument;
    std::vector<PlateSummary> plates;
};

/// What a hammer told of the force of one tap, kept in the tap's recording as a second channel.
struct HammerForce {
    std::vector<float> samples; ///< on the tap's own frames, full scale ±1; empty: none was told
    double newton = 0;          ///< at full scale; 0: not known
    bool operator==(const HammerForce&) const = default;
};

/// Something in the bin.
struct BinnedThing {
    bool operator==(const BinnedThing&) const = default;
    std::string table; ///< instrument, plate, session, tap, …
    std::int64_t id = 0;
    base::Timestamp binned;
    std::string what; ///< for people: what it is, and what it belongs to
};

} // namespace platewright::ledger
