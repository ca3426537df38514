//! The terminal guard: enters the alternate screen and always leaves it, also when the program panics.

use crossterm::cursor::Show;
use crossterm::event::{DisableBracketedPaste, EnableBracketedPaste};
use crossterm::terminal::{EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode};
use crossterm::{execute, terminal};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use std::io::{self, Stdout};

/// The terminal while marram draws on it. Dropping it gives the terminal back.
#[derive(Debug)]
pub struct Guard {
    /// What draws.
    pub terminal: Terminal<CrosstermBackend<Stdout>>,
}

impl Guard {
    /// Enters raw mode and the alternate screen.
    ///
    /// # Errors
    /// When the terminal refuses; what was entered so far is left again.
    pub fn enter() -> io::Result<Self> {
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |info| {
            restore();
            before(info);
        }));
        enable_raw_mode()?;
        let entered = execute!(io::stdout(), EnterAlternateScreen, EnableBracketedPaste);
        let made = entered.and_then(|()| Terminal::new(CrosstermBackend::new(io::stdout())));
        match made {
            Ok(terminal) => Ok(Self { terminal }),
            Err(error) => {
                restore();
                Err(error)
            }
        }
    }
}

impl Drop for Guard {
    fn drop(&mut self) {
        restore();
    }
}

/// Gives the terminal back as it was. Failing here has no cure, so nothing is reported.
pub fn restore() {
    let _ = execute!(io::stdout(), DisableBracketedPaste, LeaveAlternateScreen, Show);
    let _ = disable_raw_mode();
}

/// The size in columns and rows; 80 by 24 when the terminal does not say.
pub fn size() -> (u16, u16) {
    terminal::size().unwrap_or((80, 24))
}
