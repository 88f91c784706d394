#pragma once

namespace platewright::test {

/// Makes the file system fail beneath the ledger and SQLite alike: counts this process's writes,
/// syncs, truncations, renames and new folders, and lets one of them fail, or all from one on.
/// The calls are taken over by faults.cpp in the whole test program; unless armed they do what they
/// do.
struct Faults {
    /// The call after the next `calls` fails with `error` (an errno), and all later ones if
    /// `lasting`.
    static void arm(int calls, int error, bool lasting);
    static void disarm();
    /// Whether a call has failed since arm().
    static bool struck();

    /// A file system that lets no memory be shared between programs (FUSE without it, folders of
    /// virtual machines), or knows no locks on whole files (some network folders).
    static void lack_shared_memory(bool lacking);
    static void lack_locks(bool lacking);
    /// A disk that can't be read just now: every reading at a place in a file fails with EIO.
    static void lack_reading(bool lacking);
};

} // namespace platewright::test
