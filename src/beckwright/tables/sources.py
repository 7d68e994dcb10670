"""The publications behind the equations and the tables, and how we know what each of them says."""

from typing import Literal

from beckwright.base.values import value

Seen = Literal["stored", "memory", "computed"]


@value
class Source:
    """One publication.

    key        short name that equations and table rows carry
    reference  full citation
    seen       ``stored``: we read it, or a copy or a quotation of it; ``memory``: recalled and not looked up;
               ``computed``: needs no publication
    """

    key: str
    reference: str
    seen: Seen


def _source(key: str, seen: Seen, reference: str) -> Source:
    return Source(key=key, reference=reference, seen=seen)


_ROWS = (
    _source("definition", "computed", "Geometry, a definition, or conservation of mass, volume or energy."),
    _source(
        "allen-1998",
        "stored",
        "Allen, R. G., Pereira, L. S., Raes, D. and Smith, M. (1998). Crop evapotranspiration: guidelines for "
        "computing crop water requirements. FAO Irrigation and Drainage Paper 56, Rome; its worked examples as open "
        "test suites quote them.",
    ),
    _source(
        "baarda-1968",
        "stored",
        "Baarda, W. (1968). A testing procedure for use in geodetic networks. Netherlands Geodetic Commission, "
        "Publications on Geodesy 2(5), Delft; as quoted on a page on gross errors.",
    ),
    _source(
        "boussinesq-1885",
        "stored",
        "Boussinesq, J. (1885). Application des potentiels à l'étude de l'équilibre et du mouvement des solides "
        "élastiques. Gauthier-Villars, Paris; as worked on lecture and question pages, and as tabled by Fadum (1948).",
    ),
    _source(
        "brater-king-1996",
        "memory",
        "Brater, E. F., King, H. W., Lindell, J. E. & Wei, C. Y. (1996). Handbook of Hydraulics, 7th ed. McGraw- Hill.",
    ),
    _source(
        "bs-5837",
        "stored",
        "BS 5837:2012. Trees in relation to design, demolition and construction - Recommendations. BSI.",
    ),
    _source(
        "bs-7671",
        "stored",
        "BS 7671:2018. Requirements for Electrical Installations (IET Wiring Regulations), Appendix 4; as quoted on "
        "tables and trade pages.",
    ),
    _source(
        "cgpm-1901",
        "memory",
        "3rd General Conference on Weights and Measures (1901). Declaration on the conventional value of gravity.",
    ),
    _source(
        "chamani-rajaratnam-1999",
        "stored",
        "Chamani, M. R. & Rajaratnam, N. (1999). Onset of skimming flow on stepped spillways. Journal of Hydraulic "
        "Engineering 125(9), 969-971; as quoted on a design page.",
    ),
    _source(
        "chanson-1994",
        "memory",
        "Chanson, H. (1994). Hydraulics of nappe flow regime above stepped chutes and spillways. Australian Civil "
        "Engineering Transactions CE36(1), 69-76.",
    ),
    _source("chow-1959", "memory", "Chow, V. T. (1959). Open-Channel Hydraulics. McGraw-Hill."),
    _source(
        "ciria-c680",
        "memory",
        "Wilson, S. (2008). Structural design of modular geocellular drainage tanks. CIRIA C680.",
    ),
    _source(
        "clark-1962",
        "memory",
        "Clark, C. E. (1962). The PERT model for the distribution of an activity time. Operations "
        "Research 10(3), 405-406.",
    ),
    _source(
        "crane-tp410",
        "stored",
        "Crane Co. Flow of Fluids Through Valves, Fittings, and Pipe. Technical Paper 410.",
    ),
    _source(
        "dunlop-1991",
        "stored",
        "Dunlop, E. J. (1991). WADI Users Manual. Local Government Computer Services Board, Dublin; cubic as "
        "quoted in the EPANET 2.2 manual.",
    ),
    _source(
        "duct-page",
        "stored",
        "Duct size calculator: typical diameters of armoured cables, and the bore a duct needs. "
        "Engineering page, no author.",
    ),
    _source(
        "en-12201-2",
        "stored",
        "EN 12201-2. Plastics piping systems for water supply - Polyethylene (PE) - Pipes.",
    ),
    _source("en-1990", "memory", "EN 1990. Eurocode - Basis of structural design."),
    _source(
        "en-1997-1",
        "stored",
        "EN 1997-1. Eurocode 7: Geotechnical design - General rules, with the UK National Annex.",
    ),
    _source(
        "epdm-sheets",
        "stored",
        "Data sheets of rubber sheet: EN 1849-2:2009 (thickness and mass), ASTM D7465 (sheet), "
        "as filed with a regulator.",
    ),
    _source(
        "epanet-2.2",
        "stored",
        "Rossman, L. A., Woo, H., Tryby, M., Shang, F., Janke, R. & Haxton, T. (2020). EPANET 2.2 User Manual. US "
        "EPA, EPA/600/R-20/133.",
    ),
    _source(
        "ergun-1952",
        "memory",
        "Ergun, S. (1952). Fluid flow through packed columns. Chemical Engineering Progress 48(2), 89-94.",
    ),
    _source(
        "ferguson-2007",
        "stored",
        "Ferguson, R. (2007). Flow resistance equations for gravel- and boulder-bed streams. Water Resources "
        "Research 43, W05427.",
    ),
    _source(
        "ghilani-wolf-2006",
        "stored",
        "Ghilani, C. D. & Wolf, P. R. (2006). Adjustment Computations: Spatial Data Analysis, 4th ed. Wiley; chapter "
        "14 as worked through in its own course files, chapter 19 as quoted on lecture pages.",
    ),
    _source(
        "hi-europump-2001",
        "memory",
        "Hydraulic Institute & Europump (2001). Pump Life Cycle Costs: A Guide to LCC Analysis for Pumping Systems. "
        "Parsippany, New Jersey.",
    ),
    _source(
        "hse-l23",
        "stored",
        "Health and Safety Executive (2016). Manual handling. Manual Handling Operations Regulations 1992. Guidance on "
        "Regulations L23, 4th ed.; filter values and team shares as its pages tell them.",
    ),
    _source(
        "iapws-sr6-08",
        "memory",
        "IAPWS SR6-08 (2011). Supplementary Release on Properties of Liquid Water at 0.1 MPa.",
    ),
    _source(
        "iso-10567",
        "stored",
        "ISO 10567:2007. Earth-moving machinery - Hydraulic excavators - Lift capacity; as operators' "
        "manuals quote it.",
    ),
    _source(
        "iec-60364-7-702",
        "stored",
        "IEC 60364-7-702:2010. Low-voltage electrical installations - Part 7-702: Swimming pools and "
        "fountains; as quoted "
        "on trade pages.",
    ),
    _source(
        "isbash-1936",
        "stored",
        "Isbash, S. V. (1936). Construction of dams by depositing rock in running water. Transactions, 2nd Congress on "
        "Large Dams 5, 123-136; as quoted in NCHRP Report 568.",
    ),
    _source(
        "jcgm-100",
        "memory",
        "JCGM 100:2008. Evaluation of measurement data - Guide to the expression of uncertainty in measurement. BIPM.",
    ),
    _source(
        "johnson-1967",
        "stored",
        "Johnson, A. I. (1967). Specific yield - compilation of specific yields for various materials. USGS "
        "Water-Supply Paper 1662-D; table as quoted.",
    ),
    _source(
        "kell-1975",
        "memory",
        "Kell, G. S. (1975). Density, thermal expansivity, and compressibility of liquid water from 0 to 150 C. "
        "Journal of Chemical and Engineering Data 20(1), 97-105.",
    ),
    _source(
        "kindsvater-carter-1957",
        "stored",
        "Kindsvater, C. E. & Carter, R. W. (1957). Discharge characteristics of rectangular thin-plate weirs. "
        "Journal of the Hydraulics Division ASCE 83(6), 1453.",
    ),
    _source(
        "lamb-2008",
        "stored",
        "Lamb, M. P., Dietrich, W. E. & Venditti, J. G. (2008). Is the critical Shields stress for incipient sediment "
        "motion dependent on channel-bed slope? Journal of Geophysical Research 113, F02008; as coded publicly.",
    ),
    _source(
        "levelling-form",
        "stored",
        "Height calculation from levelling: line and area levelling. Pages of a booking form with examples, no author.",
    ),
    _source(
        "levelling-slides",
        "stored",
        "Levelling (continued): booking, checks, misclosure (1998). Lecture slides of a school of civil engineering, "
        "no author.",
    ),
    _source(
        "lid-guide",
        "stored",
        "Low Impact Development Stormwater Management Planning and Design Guide, article on reservoir aggregate. It "
        "calls 0.4 a void ratio; it is read as the share of the volume.",
    ),
    _source(
        "lilly-press",
        "stored",
        "Rauschen im Detail. Press account of measurements on waterfalls by J. Lilly; Deutschlandfunk.",
    ),
    _source(
        "macdonald-1979",
        "memory",
        "Macdonald, I. F., El-Sayed, M. S., Mow, K. & Dullien, F. A. L. (1979). Flow through porous media - the "
        "Ergun equation revisited. Industrial & Engineering Chemistry Fundamentals 18(3), 199-208.",
    ),
    _source(
        "malcolm-1959",
        "stored",
        "Malcolm, D. G., Roseboom, J. H., Clark, C. E. & Fazar, W. (1959). Application of a technique for research and "
        "development program evaluation. Operations Research 7(5), 646-669; as quoted in textbooks.",
    ),
    _source(
        "mcmahon-2013",
        "stored",
        "McMahon, T. A., Peel, M. C., Lowe, L., Srikanthan, R. and McVicar, T. R. (2013). Estimating actual, "
        "potential, reference crop and pan evaporation using standard meteorological data: a pragmatic synthesis. "
        "Hydrology and Earth System Sciences 17, 1331-1363, supplement; its worked examples as an open notebook "
        "quotes them.",
    ),
    _source(
        "morris-johnson-1967",
        "memory",
        "Morris, D. A. & Johnson, A. I. (1967). Summary of hydrologic and physical properties of rock and soil "
        "materials. USGS Water-Supply Paper 1839-D.",
    ),
    _source(
        "nptel-levelling",
        "stored",
        "National Programme on Technology Enhanced Learning, India. Course 105107122, Modern Surveying Techniques, "
        "module 4: levelling.",
    ),
    _source(
        "penman-1948",
        "memory",
        "Penman, H. L. (1948). Natural evaporation from open water, bare soil and grass. Proceedings of the Royal "
        "Society of London A 193, 120-145.",
    ),
    _source(
        "peurifoy",
        "stored",
        "Peurifoy, R. L., Schexnayder, C. J. & Shapira, A. Construction Planning, Equipment, and Methods. "
        "McGraw-Hill; table 4-1 as quoted.",
    ),
    _source(
        "rand-1955",
        "stored",
        "Rand, W. (1955). Flow geometry at straight drop spillways. Proceedings ASCE 81, paper 791; equations as used "
        "in a stored worksheet.",
    ),
    _source(
        "rice-1998",
        "stored",
        "Rice, C. E., Kadavy, K. C. & Robinson, K. M. (1998). Roughness of loose rock riprap on steep slopes. "
        "Journal of Hydraulic Engineering 124(2), 179-185.",
    ),
    _source(
        "rickenmann-recking-2011",
        "stored",
        "Rickenmann, D. & Recking, A. (2011). Evaluation of flow resistance in gravel-bed rivers through a large "
        "field data set. Water Resources Research 47, W07538.",
    ),
    _source(
        "robinson-1998",
        "stored",
        "Robinson, K. M., Rice, C. E. & Kadavy, K. C. (1998). Design of rock chutes. Transactions of the ASAE "
        "41(3), 621-626.",
    ),
    _source(
        "rouse-1936",
        "memory",
        "Rouse, H. (1936). Discharge characteristics of the free overfall. Civil Engineering 6(4), 257-260.",
    ),
    _source(
        "shuttleworth-1993",
        "memory",
        "Shuttleworth, W. J. (1993). Evaporation. In: Maidment, D. R. (ed.), Handbook of Hydrology, chapter 4. "
        "McGraw-Hill.",
    ),
    _source(
        "strickler-1923",
        "stored",
        "Strickler, A. (1923). Beiträge zur Frage der Geschwindigkeitsformel und der Rauhigkeitszahlen für "
        "Ströme, Kanäle und geschlossene Leitungen. Mitteilungen des Amtes für Wasserwirtschaft 16, Bern.",
    ),
    _source(
        "swamee-jain-1976",
        "stored",
        "Swamee, P. K. & Jain, A. K. (1976). Explicit equations for pipe-flow problems. Journal of the Hydraulics "
        "Division ASCE 102(5), 657-664.",
    ),
    _source(
        "terzaghi-peck-1996",
        "memory",
        "Terzaghi, K., Peck, R. B. & Mesri, G. (1996). Soil Mechanics in Engineering Practice, 3rd ed. Wiley.",
    ),
    _source(
        "vertical-drop-sheet",
        "stored",
        "Design of vertical drop fall: surface flow. Worksheet of a canal design, no author.",
    ),
    _source(
        "villemonte-1947",
        "stored",
        "Villemonte, J. R. (1947). Submerged weir discharge studies. Engineering News Record 139, 866-869; as quoted "
        "in the manuals of public flow models.",
    ),
    _source(
        "woolhiser-liggett-1967",
        "memory",
        "Woolhiser, D. A. & Liggett, J. A. (1967). Unsteady, one-dimensional flow over a plane: the rising hydrograph. "
        "Water Resources Research 3(3), 753-771.",
    ),
    _source(
        "zachoval-2014",
        "stored",
        "Zachoval, Z., Knéblová, M., Roušar, L., Rumann, J. & Šulc, J. (2014). Discharge coefficient of a "
        "rectangular sharp-edged broad-crested weir. Journal of Hydrology and Hydromechanics 62(2), 145-149.",
    ),
)

SOURCES: dict[str, Source] = {row.key: row for row in _ROWS}
"""Every publication by its key."""
