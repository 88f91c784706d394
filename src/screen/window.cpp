#include "screen/window.hpp"

#include "base/failure.hpp"
#include "screen/desk.hpp"
#include "screen/status_line.hpp"
#include "screen/wishes_file.hpp"

#include <GLFW/glfw3.h>
#include <imgui.h>
#include <imgui_impl_glfw.h>
#include <imgui_impl_opengl3.h>

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
    default:
        return std::nullopt;
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
                                   *key == Key::right || *key == Key::enter);
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

/// GLFW, a window with OpenGL 3.2, and Dear ImGui on it; all given back at the end.
class GlWindow {
public:
    explicit GlWindow(Happenings& happenings) {
        if (glfwInit() == GLFW_FALSE) {
            throw no_window();
        }
        glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
        glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 2);
        glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
        glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
        window_ = glfwCreateWindow(1280, 800, "Platewright", nullptr, nullptr);
        if (window_ == nullptr) {
            const base::Failure failure = no_window();
            glfwTerminate();
            throw failure;
        }
        glfwSetWindowSizeLimits(window_, 640, 400, GLFW_DONT_CARE, GLFW_DONT_CARE);
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

/// Whether another picture is owed: level and noise alone only when the meter would look different.
bool looks_different(const bench::Snapshot& before, const bench::Snapshot& now) {
    const bench::InputStatus& a = before.input;
    const bench::InputStatus& b = now.input;
    const bool same_ear = a.state == b.state && a.overruns == b.overruns &&
                          a.clipped == b.clipped && a.trouble == b.trouble && a.name == b.name &&
                          meter_steps(a.level_dbfs) == meter_steps(b.level_dbfs);
    const bool same_rest =
        before.plate == now.plate && before.work == now.work &&
        before.instruments == now.instruments && before.striking_at == now.striking_at &&
        before.chosen == now.chosen && before.inputs == now.inputs &&
        before.notices.size() == now.notices.size() &&
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
    const GlWindow window(happenings);
    Desk desk(bench.send);
    const Wishes before = read_wishes();
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
    if (desk.wishes() != before) {
        write_wishes(desk.wishes());
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
