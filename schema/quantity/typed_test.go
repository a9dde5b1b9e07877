package quantity

import (
	"encoding/json"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

type pump struct {
	Pressure Pressure `json:"pressure,omitzero" yaml:"pressure,omitempty"`
	Flow     Flow     `json:"flow,omitzero" yaml:"flow,omitempty"`
	Port     DashSize `json:"port,omitzero" yaml:"port,omitempty"`
	Duty     Ratio    `json:"duty,omitzero" yaml:"duty,omitempty"`
}

func TestTypedQuantitiesReadYAMLAndJSON(t *testing.T) {
	var fromYAML, fromJSON pump
	require.NoError(t, yaml.Unmarshal([]byte("pressure: 58 psi\nport: -6\nduty: 0.85\n"), &fromYAML))
	require.NoError(t, json.Unmarshal([]byte(`{"pressure":"58 psi","port":"-6","duty":0.85}`), &fromJSON))
	assert.Equal(t, fromYAML, fromJSON)
	assert.Equal(t, "58 psi (400 kPa)", fromYAML.Pressure.Format(Both))
	assert.True(t, fromYAML.Flow.IsZero())

	text, err := json.Marshal(fromYAML)
	require.NoError(t, err)
	assert.JSONEq(t, `{"pressure":"399895.92300376494 Pa","port":"-6","duty":"0.85"}`, string(text))
	var back pump
	require.NoError(t, json.Unmarshal(text, &back))
	assert.Equal(t, fromYAML, back)

	assert.ErrorContains(t, yaml.Unmarshal([]byte("pressure: 58\n"), &pump{}), "58: a pressure needs a unit")
	assert.ErrorContains(t, json.Unmarshal([]byte(`{"flow":58}`), &pump{}), "58: a flow needs a unit")
	_, err = json.Marshal(struct{ P Pressure }{})
	assert.Error(t, err)
}

func TestTypeTellsItsDimension(t *testing.T) {
	for i := range reflect.TypeFor[pump]().NumField() {
		zero := reflect.Zero(reflect.TypeFor[pump]().Field(i).Type).Interface()
		d := zero.(interface{ QuantityDimension() Dimension }).QuantityDimension()
		assert.Equal(t, []Dimension{DimPressure, DimFlow, DimDashSize, DimRatio}[i], d)
	}
	p, err := As[pressureDim](MustNew(5, DimPressure))
	require.NoError(t, err)
	assert.Equal(t, 5.0, p.SI())
	_, err = As[pressureDim](MustNew(5, DimFlow))
	assert.ErrorContains(t, err, "a pressure is expected")
}

func TestEveryDimensionHasItsType(t *testing.T) {
	markers := []Dim{lengthDim{}, areaDim{}, volumeDim{}, massDim{}, timeDim{}, velocityDim{}, accelerationDim{}, forceDim{}, torqueDim{}, flowDim{}, massFlowDim{},
		densityDim{}, kinematicViscosityDim{}, pressureDim{}, absolutePressureDim{}, temperatureDim{}, temperatureDifferenceDim{}, angleDim{}, rotationalSpeedDim{},
		frequencyDim{}, voltageDim{}, currentDim{}, resistanceDim{}, resistancePerLengthDim{}, inductanceDim{}, capacitanceDim{}, chargeDim{}, energyDim{}, powerDim{},
		specificConsumptionDim{}, shareDim{}, ratioDim{}, wireSizeDim{}, dashSizeDim{}, heatingValueDim{}}
	require.Len(t, markers, len(Dimensions()))
	for i, d := range Dimensions() {
		assert.Equal(t, d, markers[i].dimension())
		assert.Equal(t, d.Name()+"Dim", upperFirst(reflect.TypeOf(markers[i]).Name()))
	}
}

func upperFirst(s string) string { return string(s[0]-'a'+'A') + s[1:] }
