#include "bench/session/undo.hpp"

#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::bench {
namespace {

using wording::say;

std::optional<ledger::InstrumentRecord> instrument_of(const ledger::Store& store, ledger::Id id) {
    for (const ledger::InstrumentSummary& one : store.overview())
        if (one.instrument.id == id)
            return one.instrument;
    return std::nullopt;
}

std::optional<ledger::PlateRecord> plate_of(const ledger::Store& store, ledger::Id id) {
    for (const ledger::InstrumentSummary& one : store.overview())
        for (const ledger::PlateSummary& plate : one.plates)
            if (plate.plate.id == id)
                return plate.plate;
    return std::nullopt;
}

/// What is kept now, to be put back.
class Before {
public:
    Before(const ledger::Store& store, const ledger::PlateHistory* history, ledger::Id session)
        : store_{store}, history_{history}, session_{session} {}

    std::optional<Undo> operator()(const command::SaveInstrument& c) const {
        if (c.instrument.id == 0)
            return made("instrument", say("instrument made"));
        const auto old = instrument_of(store_, c.instrument.id);
        return old ? undo(say("instrument changed"), command::SaveInstrument{*old}) : std::nullopt;
    }
    std::optional<Undo> operator()(const command::SavePlate& c) const {
        if (c.plate.id == 0)
            return made("plate", say("plate made"));
        const auto old = plate_of(store_, c.plate.id);
        return old ? undo(say("plate changed"), command::SavePlate{*old}) : std::nullopt;
    }
    std::optional<Undo> operator()(const command::BeginSession&) const {
        return made("session", say("session begun"));
    }
    std::optional<Undo> operator()(const command::SaveSession& c) const {
        const auto* old = session(c.session.id);
        return old != nullptr ? undo(say("session corrected"), command::SaveSession{old->session})
                              : std::nullopt;
    }
    std::optional<Undo> operator()(const command::Bin& c) const {
        return undo(say("put away"), command::Unbin{c.table, c.id});
    }
    std::optional<Undo> operator()(const command::Unbin& c) const {
        return undo(say("put back"), command::Bin{c.table, c.id});
    }
    std::optional<Undo> operator()(const command::MoveSession& c) const {
        const auto plate = store_.plate_of_session(c.session);
        return plate ? undo(say("session moved"), command::MoveSession{c.session, *plate})
                     : std::nullopt;
    }
    std::optional<Undo> operator()(const command::MovePlate& c) const {
        const auto old = plate_of(store_, c.plate);
        return old ? undo(say("plate moved"), command::MovePlate{c.plate, old->instrument})
                   : std::nullopt;
    }
    std::optional<Undo> operator()(const command::SetBegun& c) const {
        const auto* old = session(c.session);
        return old != nullptr
                   ? undo(say("date corrected"), command::SetBegun{c.session, old->session.begun})
                   : std::nullopt;
    }
    std::optional<Undo> operator()(const command::SetSpot& c) const {
        const ledger::TapRecord* old = tap(c.tap);
        return old != nullptr ? undo(say("spot corrected"), command::SetSpot{c.tap, old->spot})
                              : std::nullopt;
    }
    std::optional<Undo> operator()(const command::SetThickness& c) const {
        return thickness(c.session);
    }
    std::optional<Undo> operator()(const command::TakeOutReadings& c) const {
        return thickness(c.session);
    }
    std::optional<Undo> operator()(const command::SetForm&) const {
        return history_ != nullptr && history_->form
                   ? undo(say("shape changed"), command::SetForm{*history_->form})
                   : std::nullopt;
    }
    std::optional<Undo> operator()(const command::SetTargets&) const {
        return history_ != nullptr
                   ? undo(say("targets changed"), command::SetTargets{history_->targets})
                   : std::nullopt;
    }
    std::optional<Undo> operator()(const command::NameMode& c) const {
        std::optional<int> old;
        if (const auto* open = session(session_))
            for (const ledger::ModeRecord& mode : open->modes)
                if (mode.name && mode.name->by_maker &&
                    std::abs(mode.mode.frequency_hz - c.frequency_hz) < 0.005 * c.frequency_hz)
                    old = mode.name->number;
        return undo(say("mode named"), command::NameMode{c.frequency_hz, old});
    }
    template <class Other>
    std::optional<Undo> operator()(const Other&) const {
        return std::nullopt;
    }

private:
    static std::optional<Undo> undo(std::string_view what, Command back) {
        return Undo{.what = std::string(what), .back = std::move(back)};
    }
    static std::optional<Undo> made(const char* table, std::string_view what) {
        return undo(what, command::Bin{table, 0});
    }
    std::optional<Undo> thickness(ledger::Id id) const {
        const auto* old = session(id);
        return old != nullptr ? undo(say("caliper readings changed"),
                                     command::SetThickness{id, old->thickness.readings})
                              : std::nullopt;
    }
    const ledger::SessionHistory* session(ledger::Id id) const {
        return history_ == nullptr ? nullptr : ledger::session_in(history_->sessions, id);
    }
    const ledger::TapRecord* tap(ledger::Id id) const {
        if (history_ != nullptr)
            for (const ledger::SessionHistory& one : history_->sessions)
                for (const ledger::TapRecord& tap : one.taps)
                    if (tap.id == id)
                        return &tap;
        return nullptr;
    }

    const ledger::Store& store_;
    const ledger::PlateHistory* history_;
    ledger::Id session_;
};

} // namespace

std::optional<Undo> undo_of(const Command& command, const ledger::Store& store,
                            const ledger::PlateHistory* history, ledger::Id session) {
    auto undo = std::visit(Before{store, history, session}, command);
    if (undo && history != nullptr) {
        undo->plate = history->plate.id;
        undo->session = session;
    }
    return undo;
}

bool acts_on_the_open_one(const Command& command) {
    return std::holds_alternative<command::SetForm>(command) ||
           std::holds_alternative<command::SetTargets>(command) ||
           std::holds_alternative<command::SetThickness>(command) ||
           std::holds_alternative<command::NameMode>(command);
}

} // namespace platewright::bench
