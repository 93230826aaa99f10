//! All the SQL, one file per table family, in rooms by what the rows are about: messages in and out, talks, staff, the
//! market. Named constraints become typed errors.

mod connection;
mod counts;
mod entry;
mod error;
mod handle;
mod market;
mod messages;
mod retention;
mod schema;
mod signals;
mod staff;
mod talks;
mod tally;

pub use counts::{Count, Crossed, Span, Split};
pub use entry::NoEntry;
pub use error::StoreError;
pub use handle::{Step, Store};
pub use market::places::PlaceRow;
pub use market::prices::{PricesRow, PumpClassRow};
pub use messages::bulk::{BulkAnswer, BulkCounts, BulkFilter, BulkList, BulkRow, BulkWork, NewBulkList, NewBulkRow};
pub use messages::inbound::{Inbound, Stored};
pub use messages::line_state::Leased;
pub use messages::outbox::{NewReply, Reply, Way};
pub use messages::reach::{ToAsk, ToSend};
pub use messages::sending::Lease;
pub use messages::undelivered::{Again, LineNow, UndeliveredRow};
pub use retention::Kind;
pub use schema::Readiness;
pub use signals::{Ear, Signal};
pub use staff::accounts::{NewStaff, StaffRow, StaffSecret};
pub use staff::audit::AuditRow;
pub use staff::keys::{KeyRow, NewKey};
pub use staff::sessions::SessionRow;
pub use talks::drafts::Draft;
pub use talks::events::EventRow;
pub use talks::growers::{FoundRow, NoteRow, Search};
pub use talks::hand::{Hand, Holder};
pub use talks::history::{Before, HistoryRow};
pub use talks::records::{Cursor, GrowerRecord, MessageRecord};
pub use talks::reminders::{DueReminder, NewReminder};
pub use talks::talk::TalkForm;
pub use talks::waiting::{TalkKey, WaitingCount, WaitingFilter, WaitingRow};
pub use tally::{Gauges, NewTally};
