#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"
#include "plate/plate_model.hpp"
#include "plate/wood/wood_prior.hpp"

#include <optional>
#include <string>

namespace platewright::trends {

/// From what is kept of a plate's shape to what the model takes.

/// What is taken to hold of a plate until its maker says otherwise: the usual size.
ledger::FormRecord usual_form(const ledger::InstrumentRecord& instrument);
/// What was said, else that.
ledger::FormRecord form_of(const ledger::PlateHistory& history);

/// The outline said, measured or drawn from its size. Fault: what plate::make_outline finds.
base::Result<plate::Outline> outline_of(const ledger::FormRecord& form);

/// What is wrong with a shape as it was said: its outline; an arch that is no higher than the edge;
/// f-holes or a bar off the plate; a height off the outline; a wood that is not in the table;
/// halves that no plate has. Nothing where all is well. Sentences end with what became of the data.
std::optional<base::Fault> fault_in(const ledger::FormRecord& form);

/// What is said where a map or a plan is asked for of a closed body.
base::Fault body_has_none();

/// The same, and whether the newest caliper readings of the plate still lie on it; body_has_none of
/// a body.
std::optional<base::Fault> fault_in(const ledger::FormRecord& form,
                                    const ledger::PlateHistory& history);

/// The shape at a stage of the work: a top has its f-holes from the stage f_holes_cut on, its bar
/// from bar_fitted on.
base::Result<plate::PlateForm> plate_form(const ledger::FormRecord& form, modes::Part part,
                                          modes::Stage stage);

/// The wood the model starts from: the species' handbook figures; in their place what was measured
/// on the billet, and the plate's own density where that was.
struct StartingWood {
    plate::PlateWood wood;
    plate::FitPriors priors;     ///< how firmly the fit holds to it
    std::string source;          ///< which species, and where its figures stand
    bool density_is_own = false; ///< the plate's, not the handbook's
};
StartingWood starting_wood(const ledger::FormRecord& form, const ledger::PlateRecord& plate,
                           const plate::MeasuredWood& billet = {});

} // namespace platewright::trends
