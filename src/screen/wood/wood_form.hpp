#pragma once
#include "ledger/wood_columns.hpp"
#include "screen/fields/drafts.hpp"

#include <array>

namespace platewright::screen {

/// A piece of wood as it is being typed: its wood, its measures, its tap tones.
struct WoodDraft {
    RecordFields<ledger::WoodRecord> wood; // id 0: one of the label, or a new one
    RecordFields<ledger::WoodTestRecord> test{{.piece = ledger::Piece::board}};
    std::array<std::string, ledger::k_wood_motions.size()> tones; // "Hz; Q", by motion

    explicit WoodDraft(const ledger::WoodRecord& from) : wood(from) {}
    /// The wood alone.
    Filled<ledger::WoodRecord> finished_wood() const { return wood.typed(); }
    Filled<bench::command::AddWood> finished() const;
};

/// Three pages beside each other: the wood, the piece, what it sounds. `whole`: with a piece.
FormAnswer wood_form(const ViewContext& context, plot::Box area, WoodDraft& draft, bool whole,
                     Complaint& wrong, bool fresh);

} // namespace platewright::screen
