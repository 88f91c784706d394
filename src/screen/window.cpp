#include "screen/window.hpp"

#include "base/failure.hpp"
#include "screen/desk.hpp"
#include "screen/status_line.hpp"
#include "screen/wishes_file.hpp"

#include <GLFW/glfw3.h>
#include <imgui.h>
#include <imgui_impl_glfw.h>
#include <imgui_impl_opengl3.h>

#include <cstdlib>
#include <mutex>
#include <optional>

namespace platewright::screen {
namespace {

// After something happened Dear ImGui needs a few pictures until hovering and focus have settled.
constexpr int k_settling_pictures = 3;
constexpr double k_writing_mark_s = 0.5; // while a field is written in, its mark blinks

/// Whether there is a window to wake: the bench may publish before it opens and after it closes.
struct Wakeable {
    std::mutex mutex;
    bool open = false;
    void set(bool now) {
        const std::lock_guard lock(mutex);
        open = now;
    }
};
Wakeable& wakeable() {
    static Wakeable only; // GLFW knows one set of events for the whole program
    return only;
}

/// What happened to the window since the last picture.
struct Happenings {
    Keys keys;
    bool any = true;
};

Happenings& of(GLFWwindow* window) {
    return *static_cast<Happenings*>(glfwGetWindowUserPointer(window));
}

std::optional<Key> key_of(int code) {
    switch (code) {
    case GLFW_KEY_F1:
        return Key::f1;
    case GLFW_KEY_F2:
        return Key::f2;
    case GLFW_KEY_F3:
        return Key::f3;
    case GLFW_KEY_F4:
        return Key::f4;
    case GLFW_KEY_F5:
        return Key::f5;
    case GLFW_KEY_F6:
        return Key::f6;
    case GLFW_KEY_F7:
        return Key::f7;
    case GLFW_KEY_F8:
        return Key::f8;
    case GLFW_KEY_F11:
        return Key::f11;
    case GLFW_KEY_ESCAPE:
        return Key::escape;
    case GLFW_KEY_ENTER:
    case GLFW_KEY_KP_ENTER:
        return Key::enter;
    case GLFW_KEY_BACKSPACE:
        return Key::backspace;
    case GLFW_KEY_LEFT:
        return Key::left;
    case GLFW_KEY_RIGHT:
        return Key::right;
    case GLFW_KEY_UP:
        return Key::up;
    case GLFW_KEY_DOWN:
        return Key::down;
    case GLFW_KEY_PAGE_UP:
    case GLFW_KEY_PAGE_DOWN:
    case GLFW_KEY_HOME:
    case GLFW_KEY_END:
    case GLFW_KEY_INSERT:
    case GLFW_KEY_PAUSE:
        return Key::pedal;
    default:
        return code >= GLFW_KEY_F12 && code <= GLFW_KEY_F25 ? std::optional(Key::pedal)
                                                            : std::nullopt;
    }
}

/// Ours are set before Dear ImGui's, which calls them on.
void watch(GLFWwindow* window) {
    glfwSetKeyCallback(window, [](GLFWwindow* w, int code, int, int action, int) {
        of(w).any = true;
        const auto key = key_of(code);
        // Keys that a field is written with belong to the field, all but those that leave it.
        const bool writing = ImGui::GetIO().WantTextInput;
        const bool edits = key && (*key == Key::backspace || *key == Key::left ||
                                   *key == Key::right || *key == Key::enter || *key == Key::pedal);
        if (key && action != GLFW_RELEASE && !(writing && edits)) {
            of(w).keys.press(*key);
        }
    });
    glfwSetCharCallback(window, [](GLFWwindow* w, unsigned letter) {
        of(w).any = true;
        if (!ImGui::GetIO().WantTextInput) {
            of(w).keys.type(letter);
        }
    });
    glfwSetCursorPosCallback(window, [](GLFWwindow* w, double, double) { of(w).any = true; });
    glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int, int, int) { of(w).any = true; });
    glfwSetScrollCallback(window, [](GLFWwindow* w, double, double) { of(w).any = true; });
    glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int) { of(w).any = true; });
    glfwSetCursorEnterCallback(window, [](GLFWwindow* w, int) { of(w).any = true; });
    glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { of(w).any = true; });
    glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { of(w).any = true; });
}

/// Whether the middle of the window's upper edge, by which it is moved, would be within reach.
bool is_on_a_screen(const WindowPlace& place) {
    int count = 0;
    GLFWmonitor** all = glfwGetMonitors(&count);
    for (int i = 0; i < count; ++i) {
        int left = 0;
        int top = 0;
        int width = 0;
        int height = 0;
        glfwGetMonitorWorkarea(all[i], &left, &top, &width, &height);
        const int middle = place.left + place.width / 2;
        if (middle >= left && middle < left + width && place.top >= top &&
            place.top < top + height && place.width <= width && place.height <= height) {
            return true;
        }
    }
    return false;
}

/// GLFW, a window with OpenGL 3.2, and Dear ImGui on it; all given back at the end.
class GlWindow {
public:
    GlWindow(Happenings& happenings, const WindowPlace& place) {
        if (glfwInit() == GLFW_FALSE) {
            throw no_window();
        }
        glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
        glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 2);
        glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
        glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
        const bool noted = place.width > 0 && is_on_a_screen(place);
        window_ = glfwCreateWindow(noted ? place.width : 1280, noted ? place.height : 800,
                                   "Platewright", nullptr, nullptr);
        if (window_ == nullptr) {
            const base::Failure failure = no_window();
            glfwTerminate();
            throw failure;
        }
        glfwSetWindowSizeLimits(window_, 640, 400, GLFW_DONT_CARE, GLFW_DONT_CARE);
        if (noted) {
            glfwSetWindowPos(window_, place.left, place.top);
        }
        if (noted && place.whole) {
            glfwMaximizeWindow(window_);
        }
        glfwMakeContextCurrent(window_);
        glfwSwapInterval(1);
        glfwSetWindowUserPointer(window_, &happenings);
        watch(window_);
        IMGUI_CHECKVERSION();
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr; // nothing of ours moves, so nothing of Dear ImGui's is kept
        io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
        ImGui_ImplGlfw_InitForOpenGL(window_, true);
        ImGui_ImplOpenGL3_Init("#version 150");
        wakeable().set(true);
    }
    ~GlWindow() {
        wakeable().set(false);
        ImGui_ImplOpenGL3_Shutdown();
        ImGui_ImplGlfw_Shutdown();
        ImGui::DestroyContext();
        glfwDestroyWindow(window_);
        glfwTerminate();
    }
    GlWindow(const GlWindow&) = delete;
    GlWindow& operator=(const GlWindow&) = delete;
    GLFWwindow* get() const { return window_; }

    /// Where it stands now; a window over the whole screen keeps the size it had before.
    WindowPlace place(const WindowPlace& before) const {
        WindowPlace now = before;
        now.whole = glfwGetWindowAttrib(window_, GLFW_MAXIMIZED) == GLFW_TRUE;
        if (!now.whole) {
            glfwGetWindowPos(window_, &now.left, &now.top);
            glfwGetWindowSize(window_, &now.width, &now.height);
        }
        return now;
    }

private:
    static base::Failure no_window() {
        const char* detail = nullptr;
        glfwGetError(&detail);
        return base::Failure(
            std::string(say("No window can be opened here. Start it on a desktop with OpenGL 3.2, or "
                            "use a command, such as platewright listen; the ledger is untouched.")),
            detail != nullptr ? detail : "");
    }
    GLFWwindow* window_ = nullptr;
};

/// Whether the meter is worth a picture: not while only the room breathes, which goes a step up and
/// down all the time.
bool meter_moved(const bench::InputStatus& a, const bench::InputStatus& b) {
    constexpr double room_db = 24.0; // a peak of the room's own noise stays below that
    constexpr int breath = 2;        // steps
    const int steps = std::abs(meter_steps(a.level_dbfs) - meter_steps(b.level_dbfs));
    const bool room = a.level_dbfs < b.noise_dbfs + room_db && b.level_dbfs < b.noise_dbfs + room_db;
    return room ? steps > breath : steps > 0;
}

/// Whether another picture is owed: level and noise alone only when the meter would look different.
bool looks_different(const bench::Snapshot& before, const bench::Snapshot& now) {
    const bench::InputStatus& a = before.input;
    const bench::InputStatus& b = now.input;
    const bool same_ear = a.state == b.state && a.overruns == b.overruns &&
                          a.clipped == b.clipped && a.trouble == b.trouble && a.name == b.name &&
                          !meter_moved(a, b);
    const bool same_rest =
        before.plate == now.plate && before.work == now.work &&
        before.instruments == now.instruments && before.striking_at == now.striking_at &&
        before.good_taps_here == now.good_taps_here && before.playing == now.playing &&
        before.taps_to_put_back == now.taps_to_put_back && before.study == now.study &&
        before.hearing_room == now.hearing_room &&
        before.room.has_value() == now.room.has_value() && before.chosen == now.chosen &&
        before.inputs == now.inputs && before.notices.size() == now.notices.size() &&
        before.references.size() == now.references.size() &&
        before.tap.has_value() == now.tap.has_value() &&
        (!now.tap ||
         (before.tap->record.onset_frame == now.tap->record.onset_frame &&
          before.tap->record.id == now.tap->record.id && before.tap->ringing == now.tap->ringing));
    return !(same_ear && same_rest);
}

/// Letters and colours for the window as large as it is now and as the maker wishes it. True when
/// the letters were cut anew.
bool keep_look(Look& look, const Wishes& wishes) {
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    const double scale =
        scale_for(static_cast<double>(size.x), static_cast<double>(size.y), wishes.text_size);
    const bool anew = look.fonts.regular.empty() || scale != look.scale;
    if (anew) {
        look.scale = scale;
        look.fonts = cut_fonts(scale);
    }
    look.palette = wishes.dark ? &plot::dark_palette() : &plot::light_palette();
    dress(look);
    return anew;
}

int draw_picture(GLFWwindow* window, Desk& desk, Look& look, const bench::Snapshot& now,
                 Keys& keys) {
    ImGui_ImplGlfw_NewFrame();
    const bool first = look.fonts.regular.empty();
    if (keep_look(look, desk.wishes()) && !first) {
        ImGui_ImplOpenGL3_DestroyFontsTexture();
        ImGui_ImplOpenGL3_CreateFontsTexture();
    }
    ImGui_ImplOpenGL3_NewFrame(); // on the first picture it takes the letters over itself
    ImGui::NewFrame();
    const int owed = desk.draw(now, look, keys);
    ImGui::Render();
    int width = 0;
    int height = 0;
    glfwGetFramebufferSize(window, &width, &height);
    glViewport(0, 0, width, height);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(window);
    return owed;
}

void toggle_whole_screen(GLFWwindow* window) {
    if (glfwGetWindowAttrib(window, GLFW_MAXIMIZED) == GLFW_TRUE) {
        glfwRestoreWindow(window);
    } else {
        glfwMaximizeWindow(window);
    }
}

} // namespace

int run_window(const Bench& bench) {
    Happenings happenings;
    const Wishes before = read_wishes();
    const GlWindow window(happenings, before.window);
    Desk desk(bench.send, bench.keep_picture);
    desk.wish(before);
    Look look;
    std::shared_ptr<const bench::Snapshot> shown;
    int owed = k_settling_pictures;
    while (glfwWindowShouldClose(window.get()) == GLFW_FALSE) {
        if (owed > 0) {
            glfwPollEvents();
        } else if (ImGui::GetIO().WantTextInput) {
            glfwWaitEventsTimeout(k_writing_mark_s);
            owed = 1;
        } else {
            glfwWaitEvents();
        }
        const auto now = bench.snapshot();
        if (happenings.any) {
            owed = k_settling_pictures;
            happenings.any = false;
        } else if (!shown || looks_different(*shown, *now)) {
            owed = std::max(owed, 1);
        }
        if (owed == 0) {
            continue;
        }
        if (happenings.keys.take(Key::f11)) {
            toggle_whole_screen(window.get());
        }
        const int wanted = draw_picture(window.get(), desk, look, *now, happenings.keys);
        shown = now;
        owed = std::max(owed - 1, wanted);
    }
    Wishes after = desk.wishes();
    after.window = window.place(after.window);
    if (after != before) {
        write_wishes(after);
    }
    return 0;
}

void wake_window() {
    const std::lock_guard lock(wakeable().mutex);
    if (wakeable().open) {
        glfwPostEmptyEvent();
    }
}

} // namespace platewright::screen
