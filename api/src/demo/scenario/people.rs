//! The practice, its two advisors and its twelve growers.

/// The practice.
pub(in crate::demo) const PRACTICE: &str = "Long Furrow Advice (invented)";

/// Somebody who signs in.
#[derive(Debug, Clone, Copy)]
pub(in crate::demo) struct SignIn {
    /// E-mail address.
    pub email: &'static str,
    /// Password, made for the demo.
    pub password: &'static str,
}

/// An advisor.
#[derive(Debug, Clone, Copy)]
pub(in crate::demo) struct AdvisorPlan {
    /// How people call them.
    pub name: &'static str,
    /// How they sign in.
    pub sign_in: SignIn,
}

/// A grower.
#[derive(Debug, Clone, Copy)]
pub(in crate::demo) struct GrowerPlan {
    /// Name.
    pub name: &'static str,
    /// Place of the advisor in [`ADVISORS`].
    pub advisor: usize,
    /// Telephone number.
    pub phone: &'static str,
    /// Notes of the advisor.
    pub notes: &'static str,
    /// Names of the farms.
    pub farms: &'static [&'static str],
    /// Those who use a telephone in the cab sign in; the others call.
    pub sign_in: Option<SignIn>,
}

/// The advisors.
pub(in crate::demo) const ADVISORS: [AdvisorPlan; 2] = [
    AdvisorPlan {
        name: "Ruth Amsel",
        sign_in: SignIn { email: "ruth@longfurrow.example", password: "two-inches-and-covered" },
    },
    AdvisorPlan {
        name: "Owen Tarrick",
        sign_in: SignIn { email: "owen@longfurrow.example", password: "dig-before-you-turn" },
    },
];

const fn caller(
    name: &'static str,
    advisor: usize,
    phone: &'static str,
    notes: &'static str,
    farms: &'static [&'static str],
) -> GrowerPlan {
    GrowerPlan { name, advisor, phone, notes, farms, sign_in: None }
}

const fn signing(who: GrowerPlan, email: &'static str, password: &'static str) -> GrowerPlan {
    GrowerPlan { sign_in: Some(SignIn { email, password }), ..who }
}

/// The growers.
pub(in crate::demo) const GROWERS: [GrowerPlan; 12] = [
    signing(
        caller(
            "Varney Family Farm",
            0,
            "555 0101",
            "Plants green since 2019. Digs without being asked.",
            &["Home place", "Creek farm"],
        ),
        "hollis@varney.example",
        "rye-taller-than-boots",
    ),
    caller("Marta Quillen", 0, "555 0102", "Rolls her rye a day ahead.", &["Quillen"]),
    signing(
        caller(
            "Obrecht Brothers",
            0,
            "555 0103",
            "Two drivers. Tell both.",
            &["North", "Depot farm"],
        ),
        "planter@obrecht.example",
        "walk-back-and-look",
    ),
    caller("Ina Tollefsen-Reed", 0, "555 0104", "First year without tillage.", &["Ridge"]),
    caller("Fennwick Acres", 0, "555 0105", "Answers after dark.", &["Fennwick"]),
    signing(
        caller("Dov Castellane", 0, "555 0106", "Heavy ground along the river.", &["Bottoms"]),
        "dov@castellane.example",
        "wait-half-a-day-more",
    ),
    caller("Sable Prairie Farm", 1, "555 0107", "Soybean in 15 in rows.", &["Sable", "West"]),
    signing(
        caller("Jorun Haldane", 1, "555 0108", "Keeps every sheet in the cab.", &["Haldane"]),
        "jorun@haldane.example",
        "slow-down-at-the-end",
    ),
    caller("Pruett and Daughter", 1, "555 0109", "Small planter, good eyes.", &["Pruett"]),
    caller("Linden Vosk", 1, "555 0110", "Sandy knolls.", &["Vosk"]),
    caller("Three Elms", 1, "555 0111", "Wants one number and one reason.", &["Three Elms"]),
    caller("Abel Norcross", 1, "555 0112", "Bought his planter this winter.", &["Norcross"]),
];
