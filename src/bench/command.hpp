#pragma once
#include "audio/devices.hpp"
#include "bench/errand.hpp"
#include "ledger/record.hpp"
#include "modes/subject.hpp"
#include "modes/usual_band.hpp"
#include "plate/plan/rehearsal.hpp"
#include "speech/speaker.hpp"
#include "taps/spot.hpp"
#include "trends/air/moisture.hpp"
#include "trends/model/plan_request.hpp"
#include "trends/wood/wood_taps.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace platewright::bench {

/// How the bench answers taps.
struct Habits {
    bool answers_aloud = false; ///< a soft sound after each
    int taps_a_spot = 0;        ///< good ones, then the next spot by itself; 0: never
    bool says_figures = false;  ///< aloud, when a session's taps are enough
    speech::Voice voice = {};
    bool operator==(const Habits&) const = default;
};

/// What a maker can ask of the bench, by window, key or command line. The engine answers with a new
/// Snapshot; what can't be done comes back as a Notice there.
namespace command {
struct SaveInstrument {
    ledger::InstrumentRecord instrument;
}; ///< id 0: a new one
struct SavePlate {
    ledger::PlateRecord plate;
}; ///< id 0: a new one, then opened
struct OpenPlate {
    ledger::Id plate = 0;
};
struct BeginSession {
    ledger::SessionRecord session;
}; ///< id and date are given by the engine
struct SaveSession {
    ledger::SessionRecord session;
}; ///< corrects an existing one
struct OpenSession {
    ledger::Id session = 0;
}; ///< of the open plate: shown, and tapped into
struct Bin {
    std::string table;
    ledger::Id id = 0;
}; ///< instrument, plate, session or tap
struct Unbin {
    std::string table;
    ledger::Id id = 0;
};
struct UndoTap {}; ///< bins the newest tap of the session
struct CountTap {
    ledger::Id tap = 0;
};                 ///< counts a tap that was taken for another plate's
struct RedoTap {}; ///< puts the tap last taken back into its session again
struct StrikeAt {
    taps::Spot spot = taps::Spot::unknown;
}; ///< where the coming taps are struck
struct NameMode {
    double frequency_hz = 0;
    std::optional<int> number;
}; ///< of the open session
struct AddReference {
    ledger::Id session = 0;
    std::string label;
};
struct RemoveReference {
    ledger::Id reference = 0;
};
struct CompareWith {
    ledger::Id session = 0;
}; ///< 0: nothing
struct ChooseInput {
    audio::InputChoice choice;
}; ///< remembered
struct ChooseBand {
    modes::BandChoice band;
}; ///< where taps are looked for from now on, on every plate; remembered
struct Listen {
    bool on = true;
};
struct RefreshInputs {};
struct PlayTap {
    ledger::Id tap = 0;
}; ///< of the open plate; 0: silence
struct StudyTap {
    ledger::Id tap = 0;
};                  ///< of the open plate: its spectrum and its fit; 0: none
struct HearRoom {}; ///< a few seconds of quiet: Snapshot::room
struct SetHabits {
    Habits habits;
};
struct SayAgain {}; ///< sentences anew, after the language changed
struct SetForm {
    ledger::FormRecord form;
}; ///< of the open plate
/// All that the open plate's modes are to come to from now on; what is not among them has none.
struct SetTargets {
    std::vector<ledger::TargetRecord> targets;
};
struct SetThickness {
    ledger::Id session = 0;
    std::vector<plate::ThicknessReading> readings;
};
struct AddPin {
    ledger::PinRecord pin;
}; ///< of the open session
struct AddFlex {
    ledger::FlexRecord flex;
}; ///< of the open session
/// A mass will lie on the plate at a place, in the open session; its id is given by the engine.
struct BeginWeighing {
    ledger::WeighingRecord weighing;
};
struct EndWeighing {}; ///< before it is done: what was tapped with the mass stays
/// A cut tried on the study at hand, and what to measure before it, aside.
struct TryCut {
    plate::Cut cut;
};
struct KeepTrial {}; ///< the cut tried last is going to be made: kept to be held against what comes
struct StudyPlate {}; ///< map and model of the open plate, aside
/// A plan on the study at hand. The reference is a session, 0 for none.
struct MakePlan {
    trends::PlanRequest request;
    ledger::Id reference = 0;
};
struct StudyStock {
    std::optional<double> moisture_pct;
}; ///< figures of all wood, aside; at this moisture, or as each was
/// A piece that was measured, weighed and tapped. Its wood is the one of that label, or a new one.
struct AddWood {
    ledger::WoodRecord wood;
    ledger::WoodTestRecord test;
    std::vector<trends::TypedMotion> motions;
};
struct SaveWood {
    ledger::WoodRecord wood;
}; ///< corrects an existing one
struct SetCarved {
    ledger::Id plate = 0;
    std::optional<ledger::Id> wood;
}; ///< nothing: takes an earlier word back
struct SetAir {
    trends::Air air;
    bool on = false;
}; ///< one air for all sessions, remembered; on: what is compared is set over to it
struct ListKept {}; ///< Snapshot::copies and Snapshot::binned anew
struct CopyNow {};  ///< lays a copy of the ledger's database aside
/// Puts a copy of Snapshot::copies back, by its name, then finds again what was kept since; undone
/// by putting back the replaced one. Takes seconds; what the bench had open is opened anew.
struct Restore {
    std::string copy;
};
struct MoveSession {
    ledger::Id session = 0;
    ledger::Id plate = 0;
}; ///< to another plate
struct MovePlate {
    ledger::Id plate = 0;
    ledger::Id instrument = 0;
}; ///< to another instrument
struct SetBegun {
    ledger::Id session = 0;
    base::Timestamp begun;
}; ///< the day it was
struct SetSpot {
    ledger::Id tap = 0;
    taps::Spot spot = taps::Spot::unknown;
}; ///< where a kept tap was struck
struct TakeOutReadings {
    ledger::Id session = 0;
    std::vector<std::size_t> which;
};                    ///< of its map, counted from 0
struct UndoImport {}; ///< the bundle taken in last
struct UndoLast {};   ///< Snapshot::undoable
struct RunErrand {
    Errand errand;
}; ///< Snapshot::errand
struct HearRecorded {
    bool on = false;
};                        ///< recorded strikes in place of the microphone, on their own plate
struct StrikeRecorded {}; ///< the next of them, at the spot that is being struck
struct SayFigures {};     ///< aloud, of the open session, with the decision
struct StopWork {};       ///< what is computed or written aside
} // namespace command

using Command = std::variant<
    command::SaveInstrument, command::SavePlate, command::OpenPlate, command::BeginSession,
    command::SaveSession, command::OpenSession, command::Bin, command::Unbin, command::UndoTap,
    command::StrikeAt, command::NameMode, command::AddReference, command::RemoveReference,
    command::CompareWith, command::ChooseInput, command::ChooseBand, command::Listen,
    command::RefreshInputs, command::SayAgain, command::RedoTap, command::CountTap,
    command::PlayTap, command::StudyTap, command::HearRoom, command::SetHabits, command::SetForm,
    command::SetTargets, command::SetThickness, command::AddPin, command::AddFlex,
    command::BeginWeighing, command::EndWeighing, command::TryCut, command::KeepTrial,
    command::StudyPlate, command::MakePlan, command::StudyStock, command::AddWood,
    command::SaveWood, command::SetCarved, command::SetAir, command::StopWork, command::ListKept,
    command::CopyNow, command::Restore, command::MoveSession, command::MovePlate, command::SetBegun,
    command::SetSpot, command::TakeOutReadings, command::UndoImport, command::UndoLast,
    command::RunErrand, command::SayFigures, command::HearRecorded, command::StrikeRecorded>;

} // namespace platewright::bench
