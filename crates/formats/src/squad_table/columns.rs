//! What each column holds.

use chrono::Weekday;
use planning::week::{WEEKDAYS, weekday_code, weekday_from_code};

use super::cells::{Table, is_blank};
use super::{MOST_ROWS, TableProblem};

/// What a column holds of an athlete.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Column {
    Name,
    FirstName,
    FamilyName,
    Group,
    Units,
    EasyPace,
    BirthYear,
    /// A day of the base week.
    Day(Weekday),
    /// The range of the week as a whole.
    Range,
    Notes,
    Phone,
    Weight,
    HomeZone,
    Cautions,
    RecentResults,
}

impl Column {
    /// Every column, in the order in which a table is written; the last ones are only read.
    pub fn all() -> impl Iterator<Item = Self> {
        let before = [Self::Name, Self::FirstName, Self::FamilyName, Self::Group, Self::Units, Self::EasyPace];
        let days = WEEKDAYS.into_iter().map(Self::Day);
        let behind = [Self::Phone, Self::Weight, Self::HomeZone, Self::Cautions, Self::RecentResults];
        before.into_iter().chain([Self::BirthYear]).chain(days).chain([Self::Range, Self::Notes]).chain(behind)
    }

    /// A short word for forms.
    pub fn code(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::FirstName => "first-name",
            Self::FamilyName => "family-name",
            Self::Group => "group",
            Self::Units => "units",
            Self::EasyPace => "easy-pace",
            Self::BirthYear => "birth-year",
            Self::Day(day) => weekday_code(day),
            Self::Range => "range",
            Self::Notes => "notes",
            Self::Phone => "phone",
            Self::Weight => "weight",
            Self::HomeZone => "home-zone",
            Self::Cautions => "cautions",
            Self::RecentResults => "recent-results",
        }
    }

    /// The column of a code.
    pub fn from_code(code: &str) -> Option<Self> {
        weekday_from_code(code).map(Self::Day).or_else(|| Self::all().find(|column| column.code() == code))
    }

    /// The column that a head means, in any case and with any marks between its words.
    pub fn of_head(head: &str) -> Option<Self> {
        let letters: String = head.chars().filter(|letter| letter.is_alphanumeric()).collect();
        let letters = letters.to_lowercase();
        Self::of_letters(&letters).or_else(|| Self::of_other_letters(&letters))
    }

    /// The columns of a week, and who runs it.
    fn of_letters(letters: &str) -> Option<Self> {
        Some(match letters {
            "name" | "athlete" | "runner" | "fullname" | "athletename" | "runnername" => Self::Name,
            "firstname" | "forename" | "givenname" => Self::FirstName,
            "lastname" | "surname" | "familyname" => Self::FamilyName,
            "group" | "traininggroup" | "squad" | "team" => Self::Group,
            "units" | "unit" | "distanceunit" | "distanceunits" | "kmmi" | "kmormi" => Self::Units,
            "easypace" | "paceofeasyrunning" | "easyrunningpace" | "pace" => Self::EasyPace,
            "birthyear" | "yearofbirth" | "born" | "yob" | "dob" | "dateofbirth" | "birthdate" | "birthday" => {
                Self::BirthYear
            }
            "mo" | "mon" | "monday" => Self::Day(Weekday::Mon),
            "tu" | "tue" | "tues" | "tuesday" => Self::Day(Weekday::Tue),
            "we" | "wed" | "weds" | "wednesday" => Self::Day(Weekday::Wed),
            "th" | "thu" | "thur" | "thurs" | "thursday" => Self::Day(Weekday::Thu),
            "fr" | "fri" | "friday" => Self::Day(Weekday::Fri),
            "sa" | "sat" | "saturday" => Self::Day(Weekday::Sat),
            "su" | "sun" | "sunday" => Self::Day(Weekday::Sun),
            "range" | "weekrange" | "weeklyrange" | "rangeofweek" | "rangeoftheweek" | "rangeofthewholeweek" => {
                Self::Range
            }
            _ => return None,
        })
    }

    /// The other columns of an athlete.
    fn of_other_letters(letters: &str) -> Option<Self> {
        Some(match letters {
            "notes" | "note" | "yournotes" | "comment" | "comments" | "remarks" => Self::Notes,
            "phone" | "phoneno" | "phonenr" | "phonenumber" | "mobile" | "mobileno" | "mobilenumber"
            | "mobilephone" | "mob" | "cell" | "cellno" | "cellnumber" | "cellphone" | "cellphonenumber" | "tel"
            | "telno" | "telnumber" | "telephone" | "telephoneno" | "telephonenumber" | "contactno"
            | "contactnumber" | "whatsapp" => Self::Phone,
            "weight" | "bodyweight" | "weightkg" | "weightlb" | "weightlbs" | "weightinkg" | "weightinlb" => {
                Self::Weight
            }
            "timezone" | "homezone" | "hometimezone" | "timezoneathome" | "tz" => Self::HomeZone,
            "caution" | "cautions" | "injury" | "injuries" | "medical" | "medicalnotes" | "health" | "healthnotes" => {
                Self::Cautions
            }
            "recentresults" | "results" | "recentraces" | "raceresults" => Self::RecentResults,
            _ => return None,
        })
    }
}

/// How a table is laid out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Columns {
    /// The index of the row with the heads, if there is one.
    pub heads: Option<usize>,
    /// What each column holds; nothing where it is not taken.
    pub of: Vec<Option<Column>>,
}

impl Columns {
    /// What a table says of itself: by its heads, or, where it has none, a name first and the seven days in a
    /// row. `has_heads` decides where the coach knows better.
    pub fn of(table: &Table, has_heads: Option<bool>) -> Self {
        let first = table.first();
        let known: Vec<Option<Column>> =
            first.map(|row| table.rows[row].iter().map(|head| Column::of_head(head)).collect()).unwrap_or_default();
        let is_name = |column: &Option<Column>| matches!(column, Some(Column::Name | Column::FamilyName));
        // "Sun" alone may be somebody's name.
        let looks_like_heads = known.iter().any(is_name) || known.iter().flatten().count() > 1;
        let heads = first.filter(|_| has_heads.unwrap_or(looks_like_heads));
        let mut of = if heads.is_some() { known } else { in_usual_order(table.width()) };
        of.resize(table.width(), None);
        // The first of two columns with the same head is meant.
        for at in 0..of.len() {
            if of[at].is_some() && of[..at].contains(&of[at]) {
                of[at] = None;
            }
        }
        Self { heads, of }
    }

    /// Where a column stands.
    pub fn at(&self, column: Column) -> Option<usize> {
        self.of.iter().position(|one| *one == Some(column))
    }

    /// The rows that hold athletes: their indices.
    pub fn rows<'a>(&self, table: &'a Table) -> impl Iterator<Item = usize> + use<'a> {
        let heads = self.heads;
        let from = heads.map_or(0, |row| row + 1);
        (from..table.rows.len()).filter(|row| !is_blank(&table.rows[*row]))
    }

    /// Whether athletes can be read by it.
    ///
    /// # Errors
    ///
    /// No column with names, two columns that hold the same, or too many athletes.
    pub fn check(&self, table: &Table) -> Result<(), TableProblem> {
        let taken: Vec<Column> = self.of.iter().flatten().copied().collect();
        if let Some(at) = (0..taken.len()).find(|at| taken[..*at].contains(&taken[*at])) {
            return Err(TableProblem::SameColumn { column: taken[at] });
        }
        if !taken.iter().any(|column| matches!(column, Column::Name | Column::FirstName | Column::FamilyName)) {
            return Err(TableProblem::NoNames);
        }
        match self.rows(table).count() {
            0 => Err(TableProblem::Empty),
            count if count > MOST_ROWS => Err(TableProblem::TooManyRows { count }),
            _ => Ok(()),
        }
    }
}

/// The columns of a table without heads: the name, and the days where there are as many more.
fn in_usual_order(width: usize) -> Vec<Option<Column>> {
    let days = || WEEKDAYS.into_iter().map(|day| Some(Column::Day(day)));
    let name = std::iter::once(Some(Column::Name));
    match width {
        0..8 => name.collect(),
        8 => name.chain(days()).collect(),
        9 => name.chain([Some(Column::Group)]).chain(days()).collect(),
        // As a whole table is written.
        _ => Column::all()
            .filter(|one| !matches!(one, Column::FirstName | Column::FamilyName))
            .map(Some)
            .take(width)
            .collect(),
    }
}
