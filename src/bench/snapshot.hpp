#pragma once
#include "audio/devices.hpp"
#include "base/clock.hpp"
#include "bench/errand.hpp"
#include "bench/model/plate_work.hpp"
#include "bench/sound/forced.hpp"
#include "bench/sound/room.hpp"
#include "bench/sound/tap_study.hpp"
#include "bench/wood/stock_view.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/record.hpp"
#include "modes/name/name.hpp"
#include "modes/ring/input_faults.hpp"
#include "modes/signal/spectrum.hpp"
#include "modes/usual_band.hpp"
#include "trends/air/in_air.hpp"
#include "trends/drift/comparison.hpp"
#include "trends/model/weighed_taps.hpp"
#include "trends/plate_report.hpp"

#include <chrono>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace platewright::bench {

/// missing: no such input; lost: comes back by itself; ended: a recording played in is over.
enum class InputState { off, running, missing, lost, ended };

struct InputStatus {
    InputState state = InputState::off;
    std::string name; ///< of the device in use
    double sample_rate_hz = 0;
    int channel = 0;
    int force_channel = -1;    ///< of a hammer that tells its force; below 0: none
    double level_dbfs = -160;  ///< peak of the last 0.1 s
    double noise_dbfs = -160;  ///< the room
    std::int64_t overruns = 0; ///< times that sound was lost since listening began
    bool clipped = false;      ///< within the last second
    bool silent = false; ///< nothing at all has come for some seconds, not even a room's noise
    std::string trouble; ///< one sentence with the remedy; empty when all is well
    modes::InputFaults faults; ///< by the newest accepted taps it gave
};

/// Something the maker should know, newest last; `number` rises by one each.
struct Notice {
    std::int64_t number = 0;
    bool grave = false; ///< something could not be kept or done
    std::string text;
};

/// What became of a strike. Only `kept` is in the ledger and counts; a refused one may be in it as
/// well.
enum class TapFate {
    ringing,  ///< a first reading: figures may still move; not kept yet
    kept,     ///< accepted, and durable
    refused,  ///< the record's verdict says why
    not_kept, ///< accepted, but nothing of it is stored: `why_not_kept` says why
};

/// A partial of one tap that lies where a mode is known to lie.
struct NamedPartial {
    int number = 0;
    double frequency_hz = 0;
};

/// A tap as it is shown, with its own figures.
struct TapView {
    ledger::TapRecord record;
    TapFate fate = TapFate::ringing;
    std::vector<NamedPartial> named; ///< of its own partials, in the order of the plate's figures
    std::string why_not_kept;        ///< one sentence with the remedy; empty unless not kept
    bool began_session = false;      ///< it was the first of a session that was begun for it
    std::optional<modes::ForceVerdict> force = {}; ///< of a kept one, where a hammer told its own
    std::chrono::steady_clock::time_point answered{}; ///< when it became what it is
};

/// One of the large figures.
struct ModeView {
    int number = 0;                      ///< 1, 2, 5, …
    std::optional<modes::NamedMode> now; ///< of the session; nothing while not found
};

/// A spectrum with where it comes from.
struct SpectrumView {
    std::string label; ///< "last tap", "this session", "2026-03-14, graduating"
    ledger::Id session = 0;
    modes::Spectrum spectrum;
};

/// The other plate of an instrument, as it was tapped last.
struct Partner {
    modes::Part part = modes::Part::back;
    std::string label;
    std::optional<double> mode_2_hz, mode_5_hz, mass_g;
};

/// A mass that is being laid on the plate, or was just now.
struct WeighingView {
    ledger::WeighingRecord record;
    trends::WeighingProgress progress;
    std::vector<trends::WeighedModeShift> shifts; ///< once there are taps of both kinds
};

/// The plate on the bench with all that was computed of it.
struct PlateView : trends::PlateReport {
    ledger::PlateHistory history;
    ledger::Id session = 0;     ///< the open one; 0 when none is open
    modes::Naming naming;       ///< of the open session
    double spread_permille = 0; ///< of the open session, ‰ of frequency
    std::string repeatability;  ///< what its taps' spread forbids or spoils; empty: nothing
    int outlier_tap = -1;       ///< index into the session's taps, or −1
    /// Where all is set over to one air: drift, forecasts, comparison and what figures say of them
    /// are of this, and `history` stays as measured. Null: all is as measured.
    std::shared_ptr<const trends::HistoryInAir> in_air;
    const ledger::PlateHistory& trend_history() const { return in_air ? in_air->history : history; }
    std::vector<ModeView> figures; ///< mode 1, 2, 5, then others that bear a name
    std::optional<trends::Comparison> comparison;
    std::optional<ledger::ReferenceRecord> reference; ///< compared with; id 0 for a plain session
    std::string reference_label;
    std::optional<SpectrumView> last_tap, session_mean, reference_mean;
    std::vector<SpectrumView> ghosts; ///< earlier sessions, newest first
    std::optional<Partner> partner;   ///< the instrument's other plate
    std::optional<WeighingView> weighing;
    std::vector<ForcedAnswer> forced; ///< of the open session, where a hammer told its force
};

/// Recorded strikes that can be given in place of a microphone's.
struct RecordedView {
    std::string plate; ///< that they are of
    double mass_g = 0; ///< what it weighed
    bool on = false;   ///< they are heard, and not the microphone
    bool operator==(const RecordedView&) const = default;
};

/// Everything a screen may show; immutable once published.
struct Snapshot {
    std::uint64_t revision = 0;
    std::uint64_t executed = 0; ///< commands so far: one sent later is not in what is shown yet
    std::string ledger_folder;
    bool ledger_read_only = false;
    InputStatus input;
    std::vector<audio::Device> inputs;
    audio::InputChoice chosen;
    modes::BandChoice chosen_band; ///< where the maker chose one
    modes::UsualBand band;         ///< taps are looked for in it
    std::vector<Notice> notices;
    std::shared_ptr<const std::vector<ledger::InstrumentSummary>> instruments;
    std::vector<ledger::ReferenceRecord> references;
    std::vector<ledger::LaidCopy> copies; ///< of the ledger's database, as they were last asked for
    std::vector<ledger::BinnedThing> binned; ///< what lies in the bin, likewise; the latest first
    std::string undoable; ///< what was done last and can be undone; empty: nothing
    std::shared_ptr<const ErrandView> errand; ///< the newest; null while none was asked for
    trends::Air air;                          ///< the maker's own, remembered
    bool in_air = false;                      ///< what is compared is set over to it
    std::shared_ptr<const PlateView> plate;   ///< null while none is open
    std::shared_ptr<const PlateWork> work;  ///< map, model and plan of it; null while not asked for
    std::shared_ptr<const StockView> stock; ///< the wood; null while not asked for
    std::optional<TapView> tap;             ///< the newest strike, accepted or not
    taps::Spot striking_at = taps::Spot::unknown;
    int good_taps_here = 0;                ///< since striking_at was chosen
    int taps_to_put_back = 0;              ///< taken back, and not put back yet
    ledger::Id playing = 0;                ///< the tap that is being played
    std::shared_ptr<const TapStudy> study; ///< the tap that was asked about
    std::optional<RecordedView> recorded;  ///< where there are any
    bool hearing_room = false;             ///< the room is being listened to
    std::optional<RoomReport> room;        ///< as it was last listened to
};

} // namespace platewright::bench
