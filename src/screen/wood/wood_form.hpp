#pragma once
#include "screen/fields/drafts.hpp"

#include <array>

namespace platewright::screen {

/// A piece of wood as it is being typed: its wood, its measures, its tap tones.
struct WoodDraft {
    ledger::WoodRecord wood; // id 0: one of the label, or a new one
    std::size_t species = 0; // 0: none of the handbook's, or one this program does not know
    std::size_t piece = 3;   // of ledger::k_pieces
    std::string along, across, thickness, thin_edge, uneven, mass, temperature, humidity, moisture,
        notes;
    std::array<std::string, ledger::k_wood_motions.size()> tones; // "Hz; Q", by motion

    explicit WoodDraft(const ledger::WoodRecord& from);
    /// The wood alone.
    Filled<ledger::WoodRecord> finished_wood() const;
    Filled<bench::command::AddWood> finished() const;
};

/// Three pages beside each other: the wood, the piece, what it sounds. `whole`: with a piece.
FormAnswer wood_form(const ViewContext& context, plot::Box area, WoodDraft& draft, bool whole,
                     Complaint& wrong, bool fresh);

} // namespace platewright::screen
