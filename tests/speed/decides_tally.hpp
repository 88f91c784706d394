#pragma once
// What became of plates that were brought to their goals, and of what was said of them.
#include "base/interval.hpp"
#include "base/stats.hpp"
#include "trends/decision/decision.hpp"
#include "trends/drift/repeatability.hpp"
#include "true_plate.hpp"

#include <cstdio>

namespace decides {

inline constexpr double k_warns = 0.2;

struct Tally {
    int plates = 0, over = 0, unfinished = 0, sessions = 0, measured = 0, modelled = 0, taken = 0;
    double grams = 0, end_hz = 0;
    void end(const Truth& truth, std::span<const trends::Goal> goals, int number) {
        ++plates;
        const auto hz = truth.now_hz();
        bool is_over = false;
        double nearest = 1e9;
        for (const trends::Goal& goal : goals) {
            const double now = hz[goal.number == 1 ? 0 : goal.number == 2 ? 1 : 2];
            const double doubt_hz = base::plus_minus(trends::k_hold_share * goal.hz);
            if (now < goal.hz - doubt_hz) {
                is_over = true;
                std::printf("  ends beyond: mode %d %.1f Hz below %.1f +- %.1f, mode %d decided\n",
                            goal.number, goal.hz - now, goal.hz, doubt_hz, number);
            }
            if (std::isfinite(now) && (goal.number == number || number == 0))
                nearest = std::min(nearest, std::abs(now - goal.hz));
        }
        over += is_over;
        end_hz += nearest;
    }
    void tell(const char* who) const {
        std::printf(
            "%-10s %3d plates: beyond a goal by more than its interval %.1f %%, %.2f sessions, "
            "%.2f g, ends %.1f Hz from it; %d unfinished; of %d sentences of wood %d by the model, "
            "%d "
            "'measure first'\n",
            who, plates, 100.0 * over / std::max(1, plates),
            static_cast<double>(sessions) / std::max(1, plates), grams / std::max(1, plates),
            end_hz / std::max(1, plates), unfinished, taken, modelled, measured);
    }
};

/// What a forecast said that a gram does, beside what it did: in its own standard deviations, and
/// in parts of it.
struct Forecasts {
    std::vector<double> deviations, parts;
    void count(const trends::PerGram& said, double did_hz) {
        if (!std::isfinite(did_hz))
            return;
        deviations.push_back((did_hz - said.hz) / said.sd_hz);
        parts.push_back(did_hz / said.hz);
    }
    void tell(const char* what) const {
        if (deviations.empty())
            return;
        double squares = 0.0, mean = 0.0, apart = 0.0;
        const auto n = static_cast<double>(deviations.size());
        for (const double d : deviations)
            squares += d * d / n;
        for (const double p : parts)
            mean += p / n;
        for (const double p : parts)
            apart += (p - mean) * (p - mean) / n;
        std::printf("  a gram %s: %zu times, did %.2f +- %.2f of what was said, off by %.2f of "
                    "its deviations (root mean square)\n",
                    what, deviations.size(), mean, std::sqrt(apart), std::sqrt(squares));
    }
};

/// What was said of a usual pass at the place, and whether it would have gone beyond.
struct Calibration {
    std::array<double, 5> said{};
    std::array<int, 5> of{}, happened{};
    int warned = 0, falsely = 0, missed = 0;
    Forecasts by_new_map, by_carried_map; // the model's word, laid out as it is planned
    Forecasts by_past;                    // the plate's own sessions' word, as they say it
    Forecasts in_all;                     // what decides, as it is scraped
    void count(double chance, bool did) {
        const auto bin = std::min<std::size_t>(4, static_cast<std::size_t>(5.0 * chance));
        said[bin] += chance;
        ++of[bin];
        happened[bin] += did;
        if (chance >= k_warns)
            ++warned, falsely += !did;
        else
            missed += did;
    }
    void tell(const char* pass) const {
        std::printf("  %s goes beyond, said and happened:", pass);
        for (std::size_t b = 0; b < 5; ++b)
            if (of[b] > 0)
                std::printf("  %.2f %.2f (%d)", said[b] / of[b],
                            static_cast<double>(happened[b]) / of[b], of[b]);
        std::printf("; %d warnings, false %.0f %%, %d not warned of\n", warned,
                    100.0 * falsely / std::max(1, warned), missed);
        by_new_map.tell("by the model, map of now");
        by_carried_map.tell("by the model, map carried on");
        by_past.tell("by past grams");
        in_all.tell("by all of it, as scraped");
    }
};

} // namespace decides
